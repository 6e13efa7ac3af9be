"""What a check is, how checks are found, and how they are run so that one that crashes does not stop the rest."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from importlib import import_module, resources

from trivet.diagnostics import Diagnostic, Label, Rule
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived
from trivet.source import LibraryRow, Origin, Span

Run = Callable[[Design, Derived], Iterable[Diagnostic]]

CRASHED = Rule(
    "check-crashed",
    "error",
    "a check of trivet stopped with a fault of its own",
    "the other checks ran; what this one looks for is not known",
    "derived: a fault of trivet, not of the file",
)


@record
class Check:
    """A rule with the function that tests it; `more_rules` are others that the same function reports.

    `full_only`: too slow for a plain `check`, which says that it was not run. `full_run`: what a full run calls instead of `run`.
    """

    rule: Rule
    run: Run
    more_rules: tuple[Rule, ...] = ()
    full_only: bool = False
    full_run: Run | None = None


@cache
def all_checks() -> tuple[Check, ...]:
    """Every check in this folder, by slug. A module whose name begins with an underscore is no check."""
    # Listed as files: what the standard library has for listing modules costs more to import than a tenth of all checks.
    files = (item.name for item in resources.files("trivet.checks").iterdir())
    names = sorted(name.removesuffix(".py") for name in files if name.endswith(".py") and not name.startswith("_"))
    modules = [import_module(f"trivet.checks.{name}") for name in names]
    return tuple(
        Check(
            module.RULE,
            module.check,
            getattr(module, "MORE_RULES", ()),
            getattr(module, "FULL_ONLY", False),
            getattr(module, "check_full", None),
        )
        for module in modules
    )


def run_checks(design: Design, derived: Derived, full: bool = True, checks: tuple[Check, ...] | None = None) -> list[Diagnostic]:
    """The findings of all checks, without `full` of the quick ones.

    A check that raises becomes one finding with its slug; nothing else is lost.
    """
    found: list[Diagnostic] = []
    for check in all_checks() if checks is None else checks:
        if check.full_only and not full:
            continue
        try:
            run = check.full_run if full and check.full_run is not None else check.run
            found.extend(run(design, derived))
        except Exception as error:
            import traceback

            message = f"the check `{check.rule.slug}` stopped: {type(error).__name__}: {error}"
            last = traceback.extract_tb(error.__traceback__)[-1]
            module = last.filename.replace("\\", "/").rpartition("/")[2]
            span = design.origin if isinstance(design.origin, Span) else None
            found.append(
                Diagnostic(
                    CRASHED.slug,
                    "error",
                    message,
                    span,
                    remedy=f"report it with this file: it stopped in `{last.name}`, line {last.lineno} of {module}",
                    fault_of_ours=True,
                )
            )
    return found


def not_run() -> tuple[str, ...]:
    """The slugs of the checks that a plain `check` leaves out."""
    return tuple(check.rule.slug for check in all_checks() if check.full_only)


def slugs() -> tuple[str, ...]:
    """The slugs that the checks report."""
    return tuple(rule.slug for check in all_checks() for rule in (check.rule, *check.more_rules))


def place(*origins: Origin | None) -> Span | None:
    """The first origin that is a place in a file."""
    return next((origin for origin in origins if isinstance(origin, Span)), None)


def related(*pairs: tuple[str, Origin | None]) -> tuple[Label, ...]:
    """Labels for the other parties; a library row is named in words, since it has no place in the file."""
    labels = []
    for message, origin in pairs:
        if isinstance(origin, Span):
            labels.append(Label(message, origin))
        elif isinstance(origin, LibraryRow):
            words = origin.status.replace("_", " ")
            labels.append(Label(f"{message} (table `{origin.table}`, row {origin.key}, {words})", origin.span))
    return tuple(labels)
