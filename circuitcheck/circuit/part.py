"""What every part of a circuit has, whether its entries are open or known: how it is named, and whether it is new."""

from __future__ import annotations

import re
from typing import ClassVar

from circuitcheck.refs import Ref

EXISTING = "existing"


class Part:
    """A part of a section of the file; a section that stands once is one part without an id."""

    __slots__ = ()

    section: ClassVar[str]

    def __init_subclass__(cls) -> None:
        """The section is called as the class is, as the file writes it: ``LowVoltageLoad``, ``low_voltage_load``."""
        if not hasattr(cls, "section"):
            cls.section = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", cls.__name__).lower()

    @property
    def ref(self) -> Ref:
        """The part as a finding names it."""
        return Ref(self.section, getattr(self, "id", ""))

    def entry(self, key: str) -> Ref:
        """One of its entries as a finding names it."""
        return Ref(self.section, getattr(self, "id", ""), key)

    @property
    def is_added(self) -> bool:
        """Whether it counts as added: anything that the file does not call existing."""
        return bool(getattr(self, "origin", EXISTING) != EXISTING)
