"""What is kept between sessions on this machine: the files opened last, and the look. Never needed, never fatal."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from platformdirs import user_config_path

_MOST_RECENT = 12
#: Files of which it is kept what nobody can find out, and how many entries of each.
_MOST_FILES, _MOST_ENTRIES = 40, 400


@dataclass(frozen=True, slots=True)
class Settings:
    """Recent files, the latest first, the theme's name, and by file the key paths that nobody can find out."""

    recent: tuple[Path, ...] = ()
    theme: str = ""
    given_up: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def with_recent(self, path: Path) -> Settings:
        """The settings with a file on top of the recent ones."""
        path = path.resolve()
        others = tuple(other for other in self.recent if other != path)
        return replace(self, recent=(path, *others)[:_MOST_RECENT])

    def with_theme(self, theme: str) -> Settings:
        """The settings with another theme."""
        return replace(self, theme=theme)

    def given_up_in(self, path: Path) -> frozenset[str]:
        """The key paths of a file that somebody said cannot be found out."""
        return frozenset(self.given_up.get(str(path.resolve()), ()))

    def with_given_up(self, path: Path, keys: frozenset[str]) -> Settings:
        """The settings with these for a file, the files changed last kept."""
        name = str(path.resolve())
        others = {other: kept for other, kept in self.given_up.items() if other != name}
        latest = dict(list(others.items())[-_MOST_FILES + 1 :])
        return replace(self, given_up={**latest, name: tuple(sorted(keys)[:_MOST_ENTRIES])} if keys else latest)


def settings_path() -> Path:
    """Where the settings stand; CIRCUITCHECK_CONFIG names another folder."""
    named = os.environ.get("CIRCUITCHECK_CONFIG")
    folder = Path(named) if named else user_config_path("circuitcheck", appauthor=False)
    return folder / "screens.json"


def read_settings() -> Settings:
    """The settings; the defaults where there are none that can be read."""
    try:
        data = json.loads(settings_path().read_text("utf-8"))
        recent = tuple(Path(name) for name in data.get("recent", ()) if isinstance(name, str))
        kept = data.get("given_up", {})
        given_up = {str(name): tuple(map(str, keys)) for name, keys in kept.items() if isinstance(keys, list)}
        return Settings(recent[:_MOST_RECENT], str(data.get("theme", "")), given_up)
    except (OSError, ValueError, AttributeError, TypeError):
        return Settings()


def write_settings(settings: Settings) -> bool:
    """Writes the settings; whether that was possible. A machine that does not keep them loses comfort only."""
    data = {
        "recent": [str(path) for path in settings.recent],
        "theme": settings.theme,
        "given_up": {name: list(keys) for name, keys in settings.given_up.items()},
    }
    path = settings_path()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        temporary = path.with_suffix(".part")
        temporary.write_text(json.dumps(data, indent=1), "utf-8")
        temporary.replace(path)
    except OSError:
        return False
    return True
