"""What a person is told about an entry, as lines: what it is, where to read it, a picture, what if it is not found."""

from __future__ import annotations

from circuitcheck.circuit.guide import KeyGuide, entry_guide
from circuitcheck.circuit.short.sections import guided_key
from circuitcheck.ui.spans import Line, wrapped_lines

_NOTHING: Line = (("", "plain"),)


def guide_for(section: str, key: str) -> KeyGuide | None:
    """The guide to a key, or None where there is none yet."""
    try:
        return entry_guide(*guided_key(section, key))
    except KeyError:
        return None


def short_help(guide: KeyGuide, width: int) -> list[Line]:
    """What it is, and the cheapest way to find it out."""
    lines = wrapped_lines(guide.what, width)
    if guide.read:
        lines += wrapped_lines(f"Find it: {guide.read[0]}", width, "dim")
    if guide.caution:
        lines += wrapped_lines(f"Caution: {guide.caution}", width, "caution")
    return lines


def full_help(guide: KeyGuide, width: int, example: str = "") -> list[Line]:
    """The whole explanation; its picture only where it fits."""
    fits = all(len(row) + 2 <= width for row in guide.picture)
    picture: list[Line] = [((f"  {row}", "value"),) for row in guide.picture] if fits else []
    if picture:
        picture.append(_NOTHING)
    lines: list[Line] = [*wrapped_lines(guide.what, width), _NOTHING]
    if guide.caution:
        lines += [*wrapped_lines(f"Caution: {guide.caution}", width, "caution"), _NOTHING]
    lines += picture
    lines.append((("How to find it, the cheapest way first", "strong"),))
    for number, way in enumerate(guide.read, start=1):
        first, *rest = wrapped_lines(way, width - 3)
        lines.append(((f"{number}. ", "plain"), *first))
        lines += [(("   ", "plain"), *line) for line in rest]
    lines.append(_NOTHING)
    lines.append((("If you cannot find it", "strong"),))
    lines += wrapped_lines(guide.if_unknown, width)
    if example:
        lines += [_NOTHING, *wrapped_lines(f"Written {example}.", width, "dim")]
    return lines


def question_help(guide: KeyGuide, width: int, *, planned: bool) -> list[Line]:
    """The explanation of a question. About a part still to be bought nothing needs to be opened or measured."""
    if not planned:
        return full_help(guide, width)
    lines: list[Line] = [*wrapped_lines(guide.what, width), _NOTHING]
    lines += wrapped_lines(
        "Read it on the carton, the roll or the label before you buy; or say how you plan it.", width
    )
    return [*lines, _NOTHING, *wrapped_lines("Leave it open if it is not decided yet.", width, "dim")]
