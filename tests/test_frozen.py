"""What a frozen value is: what a frozen dataclass of the standard library is."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, fields, replace

import pytest

from stairjig.frozen import frozen


@frozen
class Peg:
    """A peg."""

    size: float
    name: str = ""
    where: int | None = field(default=None, compare=False)
    source: bytes = field(default=b"", compare=False, repr=False)


@frozen
class Bare:
    """Nothing."""


@frozen
class One:
    """One thing."""

    thing: tuple[int, ...]


@frozen
class Many:
    """Things of its own."""

    things: list[int] = field(default_factory=list)
    more: int = 1


@frozen
class Own:
    """With a repr of its own."""

    size: int

    def __repr__(self):
        return f"<{self.size}>"


@dataclass(frozen=True, slots=True)
class Standard:
    """As the standard library makes it."""

    size: float
    name: str = ""
    where: int | None = field(default=None, compare=False)
    source: bytes = field(default=b"", compare=False, repr=False)


CASES = [(1.0,), (1.0, "a"), (2.0, "a"), (1.0, "a", 7), (1.0, "a", 7, b"x")]


@pytest.mark.parametrize("one", CASES)
@pytest.mark.parametrize("other", CASES)
def test_values_are_equal_hashed_and_shown_as_the_standard_librarys_are(one, other):
    mine, standard = Peg(*one), Standard(*one)
    assert (mine == Peg(*other)) is (standard == Standard(*other))
    assert hash(mine) == hash(standard)
    assert repr(mine) == repr(standard).replace("Standard", "Peg")


def test_a_value_is_made_from_what_it_takes_and_from_no_more():
    assert Many().things is not Many().things
    assert (Many().things, Many([1], 2).more) == ([], 2)
    for given, named in (((), {}), ((1.0, "a", 7, b"x", 9), {}), ((1.0,), {"colour": "red"})):
        with pytest.raises(TypeError):
            Peg(*given, **named)


def test_values_of_two_classes_differ():
    assert Peg(1.0) != Standard(1.0)
    assert Bare() == Bare() != One(())
    assert One((1, 2)) == One((1, 2))
    assert len({One((1,)), One((1,)), One((2,)), Bare(), Bare()}) == 3


def test_a_value_is_never_changed_and_takes_no_other_name():
    peg = Peg(1.0)
    with pytest.raises(FrozenInstanceError):
        peg.size = 2.0
    with pytest.raises(FrozenInstanceError):
        del peg.size
    with pytest.raises((FrozenInstanceError, AttributeError, TypeError)):
        peg.colour = "red"
    assert not hasattr(peg, "__dict__")


def test_a_value_keeps_what_its_class_says_itself():
    assert repr(Own(3)) == "<3>"
    assert Own(3) == Own(3)


def test_a_value_is_replaced_copied_and_kept_like_any_dataclass():
    peg = Peg(1.0, "a", 7)
    assert replace(peg, size=2.0) == Peg(2.0, "a")
    assert copy.deepcopy(peg) == pickle.loads(pickle.dumps(peg)) == peg
    assert [one.name for one in fields(Peg)] == ["size", "name", "where", "source"]
