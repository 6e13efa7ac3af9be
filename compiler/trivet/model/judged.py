"""Pydantic's judgement of a noun's values: built when a value is first met that is not plainly of its field's type."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from trivet.model.noun import Noun, hints


def judged(cls: type[Noun], given: Mapping[str, Any]) -> dict[str, Any]:
    """The values as pydantic takes them, defaults among them, in the order of the fields. Raises its ValidationError, a ValueError."""
    kind: Any = cls
    made = _model(kind)(**given)
    return {name: getattr(made, name) for name in cls.model_fields}


@cache
def _model(cls: Any) -> Any:
    from pydantic import ConfigDict, create_model

    fields: dict[str, Any] = {name: (hint, cls._defaults.get(name, ...)) for name, hint in hints(cls).items()}
    return create_model(cls.__name__, __config__=ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True), **fields)
