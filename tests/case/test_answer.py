"""Sentences whose amounts are made when somebody reads them."""

from circuitcheck.case import Amount, Later, Said


def test_things_are_made_once_and_only_when_the_sentence_is_read():
    asked = []

    def make():
        asked.append("made")
        return {"load": Amount(12.0, "A"), "cable": "feed"}

    says = Said('Cable "{cable}" carries {load}.', Later(make))
    assert asked == []
    assert str(says) == 'Cable "feed" carries 12 A.'
    assert str(says) == 'Cable "feed" carries 12 A.'
    assert (list(says.things), len(says.things), asked) == (["load", "cable"], 2, ["made"])


def test_a_sentence_is_equal_to_the_same_one_made_at_once():
    assert Said("{load}", Later(lambda: {"load": Amount(1.0, "A")})) == Said("{load}", {"load": Amount(1.0, "A")})
    assert Said("{load}", Later(lambda: {"load": Amount(1.0, "A")})) != Said("{load}", {"load": Amount(2.0, "A")})
