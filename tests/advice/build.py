"""Circuits and short views of joints for the tests of this folder."""

from collections import Counter
from pathlib import Path

from circuitcheck.advice.joints import EndKind, JointKind
from circuitcheck.advice.nets import NetKind
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_bytes
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

EXAMPLES = Path(__file__).parents[2] / "examples"


def example(name):
    """A circuit of ``examples/`` with its report and rulebook."""
    data = (EXAMPLES / f"{name}.circuit.toml").read_bytes()
    built = read_bytes(data, f"{name}.circuit.toml", vocabulary())
    book = load_rulebook(built.job.rulebook)
    return built, check(built, book), book


def boxes(circuit):
    """Box id -> its wiring."""
    return {one.box.id: one for one in wiring_of(circuit)}


def joined(wiring):
    """What each net of a box joins: words of the net -> kind and the sorted names of the ends."""
    return {joint.net.words: (joint.kind, sorted(end.part for end in joint.ends)) for joint in wiring.joints.joints}


def splices(wiring):
    """Words of the net -> how many conductors of each size its splice holds."""
    return {joint.net.words: dict(joint.sizes) for joint in wiring.joints.joints if joint.kind is JointKind.SPLICE}


def straight(wiring):
    """Words of the net -> cable and terminal, for conductors that go straight to a terminal."""
    return {
        joint.net.words: tuple(end.part for end in joint.ends)
        for joint in wiring.joints.joints
        if joint.kind is JointKind.TERMINAL
    }


def whys(wiring):
    """Why the ends of a box cannot be told, each reason once."""
    return {one.why for one in wiring.joints.untold}


def insulated_ends(wiring):
    """How often each cable's insulated conductors occur in the box, over joints and untold."""
    ends = [end for joint in wiring.joints.joints for end in joint.ends]
    ends += [one.end for one in wiring.joints.untold]
    return Counter(end.cable for end in ends if end.kind is EndKind.CABLE and end.net.kind is not NetKind.GROUND)
