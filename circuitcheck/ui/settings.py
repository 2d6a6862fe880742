"""What is kept between sessions on this machine: the files opened last, and the look. Never needed, never fatal."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass
from pathlib import Path

from platformdirs import user_config_path

_MOST_RECENT = 12


@dataclass(frozen=True, slots=True)
class Settings:
    """Recent files, the latest first, and the theme's name."""

    recent: tuple[Path, ...] = ()
    theme: str = ""

    def with_recent(self, path: Path) -> Settings:
        """The settings with a file on top of the recent ones."""
        path = path.resolve()
        others = tuple(other for other in self.recent if other != path)
        return Settings((path, *others)[:_MOST_RECENT], self.theme)

    def with_theme(self, theme: str) -> Settings:
        """The settings with another theme."""
        return Settings(self.recent, theme)


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
        return Settings(recent[:_MOST_RECENT], str(data.get("theme", "")))
    except (OSError, ValueError, AttributeError, TypeError):
        return Settings()


def write_settings(settings: Settings) -> bool:
    """Writes the settings; whether that was possible. A machine that does not keep them loses comfort only."""
    data = {
        "recent": [str(path) for path in settings.recent],
        "theme": settings.theme,
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
