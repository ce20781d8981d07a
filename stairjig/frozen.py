"""Frozen values, as each stage hands them to the next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, NoReturn, TypeVar, dataclass_transform

_Class = TypeVar("_Class")


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(cls: type[_Class]) -> type[_Class]:
    """Make a class a frozen dataclass with slots, compared, hashed and shown by its fields.

    Only `__init__` is written and compiled for each of the over a hundred classes, all else is
    shared: the standard library's own way took an eighth of the time that a pack takes.
    """
    made: Any = dataclass(init=False, repr=False, eq=False, slots=True)(cls)
    every = fields(made)
    compared = _getter([one.name for one in every if one.compare])

    def equal(self: Any, other: object) -> Any:
        if type(other) is not type(self):
            return NotImplemented
        return compared(self) == compared(other)

    def hashed(self: Any) -> int:
        return hash(compared(self))

    for name, shared in (("__eq__", equal), ("__hash__", hashed), ("__repr__", _shown)):
        if name not in cls.__dict__:
            setattr(made, name, shared)
    made.__init__ = _init(made, every)
    made.__getstate__, made.__setstate__ = _state, _set_state
    made.__setattr__, made.__delattr__ = _changed, _deleted
    return made  # type: ignore[no-any-return]


def _init(made: type, every: tuple[Field[Any], ...]) -> Callable[..., None]:
    """Write the `__init__` of a class: each field into its slot."""
    names: dict[str, Any] = {"MISSING": MISSING}
    taken, body = ["self"], []
    for one in every:
        name = one.name
        names[f"set_{name}"] = getattr(made, name).__set__
        value = name
        if one.default_factory is not MISSING:
            names[f"make_{name}"], default = one.default_factory, "=MISSING"
            value = f"make_{name}() if {name} is MISSING else {name}"
        elif one.default is not MISSING:
            names[f"default_{name}"], default = one.default, f"=default_{name}"
        else:
            default = ""
        taken.append(f"{name}{default}")
        body.append(f"set_{name}(self, {value})")
    exec(f"def __init__({', '.join(taken)}):\n {'; '.join(body) or 'pass'}", names)
    return names["__init__"]  # type: ignore[no-any-return]


def _getter(names: list[str]) -> Callable[[Any], Any]:
    return attrgetter(*names) if names else lambda _: ()


def _shown(self: Any) -> str:
    pairs = (f"{one.name}={getattr(self, one.name)!r}" for one in fields(self) if one.repr)
    return f"{type(self).__qualname__}({', '.join(pairs)})"


def _state(self: Any) -> list[Any]:
    return [getattr(self, one.name) for one in fields(self)]


def _set_state(self: Any, state: list[Any]) -> None:
    for one, value in zip(fields(self), state, strict=True):
        object.__setattr__(self, one.name, value)


def _changed(_self: Any, name: str, _value: object) -> NoReturn:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _deleted(_self: Any, name: str) -> NoReturn:
    raise FrozenInstanceError(f"cannot delete field {name!r}")
