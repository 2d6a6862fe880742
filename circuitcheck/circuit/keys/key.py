"""What a key of the circuit file is: its form, its words or units, and where its value goes in the model."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from circuitcheck.quantities import Kind


class Form(StrEnum):
    """How the value of a key is written."""

    PHYSICAL = "physical value"
    PHYSICAL_LIST = "list of physical values"
    WORD = "word"
    WORD_LIST = "list of words"
    TEXT = "text"
    ID = "id"
    REFERENCE = "id of a part"
    SIZE = "conductor size"
    YES_NO = "yes or no"
    WHOLE = "whole number"
    DATE = "date"
    TABLES = "list of tables"


@dataclass(frozen=True, slots=True)
class Key:
    """One key. ``title`` is a short label for a form; the key guide says more.

    kind: for physical values. words: the words allowed; ``vocabulary`` names those that come from the tables instead.
    least, greatest: for whole numbers. parts: the keys of each table in a list of tables.
    refers: the sections whose ids it may name. attribute: where the value goes in the model.
    """

    name: str
    form: Form
    title: str
    required: bool = False
    kind: Kind | None = None
    words: tuple[str, ...] = ()
    vocabulary: str = ""
    least: int = 0
    greatest: int = 0
    parts: Mapping[str, Key] = field(default_factory=dict)
    refers: tuple[str, ...] = ()
    attribute: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """One section. ``many``: it stands any number of times, as ``[[name]]``. ``attribute``: its place in the model."""

    name: str
    title: str
    many: bool
    keys: Mapping[str, Key]
    attribute: str
    required: bool = False


def section(name: str, title: str, attribute: str, *keys: Key, many: bool = True, required: bool = False) -> Section:
    """A section with its keys by name."""
    return Section(name, title, many, {key.name: key for key in keys}, attribute, required)


def physical(name: str, kind: Kind, title: str, *, required: bool = False) -> Key:
    """A physical value."""
    attribute = f"{name}_{kind.suffix}" if kind.suffix else name
    return Key(name, Form.PHYSICAL, title, required, kind, attribute=attribute)


def physical_list(name: str, kind: Kind, title: str) -> Key:
    """A list of physical values."""
    return Key(name, Form.PHYSICAL_LIST, title, kind=kind, attribute=f"{name}_{kind.suffix}")


def word(name: str, title: str, *words: str, vocabulary: str = "", required: bool = False) -> Key:
    """One word out of a list, or out of the tables."""
    return Key(name, Form.WORD, title, required, words=words, vocabulary=vocabulary, attribute=name)


def word_list(name: str, title: str, *words: str) -> Key:
    """Several words out of a list."""
    return Key(name, Form.WORD_LIST, title, words=words, attribute=name)


def text(name: str, title: str, *, required: bool = False) -> Key:
    """Free text."""
    return Key(name, Form.TEXT, title, required, attribute=name)


def identity(title: str) -> Key:
    """The id of a part."""
    return Key("id", Form.ID, title, True, attribute="id")


def reference(name: str, title: str, *refers: str, attribute: str = "", required: bool = False) -> Key:
    """The id of another part."""
    return Key(name, Form.REFERENCE, title, required, refers=refers, attribute=attribute or name)


def size(name: str, title: str, *words: str, required: bool = False) -> Key:
    """A conductor size out of the tables, or one of ``words``."""
    return Key(name, Form.SIZE, title, required, words=words, vocabulary="size", attribute=name)


def yes_no(name: str, title: str) -> Key:
    """``true`` or ``false``."""
    return Key(name, Form.YES_NO, title, attribute=name)


def whole(name: str, title: str, least: int, greatest: int, *, required: bool = False) -> Key:
    """A whole number without a unit."""
    return Key(name, Form.WHOLE, title, required, least=least, greatest=greatest, attribute=name)


def tables(name: str, title: str, *keys: Key) -> Key:
    """A list of small tables."""
    return Key(name, Form.TABLES, title, parts={key.name: key for key in keys}, attribute=name)
