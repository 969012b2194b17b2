"""What a form says of many names at once."""

from __future__ import annotations

from divert.page.names_said import said_of_names

KINDS = ("material", "source", "container")


def form(kind: str, *said: tuple[str, str], **more: str) -> dict[str, str]:
    out = dict(more)
    for number, (name, what) in enumerate(said, start=1):
        out[f"name-{kind}-{number}"] = name
        out[f"kind-{kind}-{number}"] = kind
        out[f"what-{kind}-{number}"] = what
    return out


def what_of(form_said: dict[str, str]) -> dict[str, str]:
    return {name: what for _, name, what in said_of_names(form_said, KINDS).values()}


def test_what_another_name_is_the_same_as_is_new_itself() -> None:
    said = form("source", ("taproom", "same: Taproom kitchen"), ("Taproom kitchen", ""))
    assert what_of(said) == {"taproom": "same: Taproom kitchen", "Taproom kitchen": "new"}


def test_names_are_followed_to_the_last_one() -> None:
    said = form(
        "source", ("tap", "same: taproom"), ("taproom", "same: Mill"), ("out", "same: bin"), ("bin", "out")
    )  # fmt: skip
    assert what_of(said) == {
        "tap": "same: Mill",
        "taproom": "same: Mill",
        "out": "out",
        "bin": "out",
    }


def test_a_ring_of_names_is_one_new_name() -> None:
    said = form("source", ("a", "same: b"), ("b", "same: c"), ("c", "same: a"))
    assert what_of(said) == {"a": "new", "b": "same: a", "c": "same: a"}


def test_all_others_of_a_kind_may_be_new_at_once() -> None:
    said = form("source", ("a", ""), ("b", "out"), **{"rest-source": "1"})
    said |= form("material", ("m", ""))
    assert what_of(said) == {"a": "new", "b": "out", "m": ""}


def test_a_kind_that_nobody_knows_is_not_taken() -> None:
    assert said_of_names({"name-1": "x", "kind-1": "sponsor", "what-1": "new"}, KINDS) == {}
