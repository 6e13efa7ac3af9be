"""The cautions that are usual for this work; they never stand for a tool's manual, local codes or licensed practice."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.solve.derived import Derived

DEFERENCE = (
    "Your tools' manuals, the makers of adhesives and finishes, local codes and licensed practice come before anything on this "
    "sheet."
)


def cutting_cautions() -> tuple[str, ...]:
    """Router, dust, small parts, scale."""
    return (
        "Router: guard eyes and ears, no gloves or loose sleeves, unplug it before changing a cutter, clamp the work, keep "
        "screws and "
        "clamps out of the cutter's path, and never leave a running machine.",
        "Small parts: never feed them by hand. Keep them in the sheet by tabs or a thin skin until the last cut, and free them "
        "with a "
        "knife; the helpers and keepers here are small parts.",
        "Dust: wood dust can cause asthma and skin disease, hardwood dust cancer of the nose, and it burns. Extract it at the "
        "cutter, wear "
        "a mask as well, and vacuum rather than sweep; birch plywood counts as hardwood.",
        "Scale: measure the 100 mm (3.937 in) square of each drawing on your screen's or machine's own rule before you cut, and cut one "
        "test gear first.",
    )


def building_cautions(design: Design, derived: Derived) -> tuple[str, ...]:
    """Adhesives, metal, magnets where there are some."""
    found = [
        "Adhesives: epoxy and cyanoacrylate can sensitise for life. Wear nitrile gloves, air the room, take no solvent to "
        "skin, and do not "
        "sand before they have cured in full.",
        "Metal: clamp what you saw, guard your eyes, file the burrs, let ends cool, and keep chips away from wood dust and its "
        "collector.",
    ]
    if design.magnets:
        found.append(
            "Magnets: they pinch and shatter; keep loose ones apart, away from implants and cards, and away from children. "
            "Swallowed "
            "magnets are an emergency: see a doctor at once."
        )
    return tuple(found)


def use_cautions(design: Design, derived: Derived) -> tuple[str, ...]:
    """Pinching, hand power, loads, what it is not for."""
    found = [
        "Pinching: keep fingers out of the gears and from under the board while it comes down.",
        _turning(design),
        "Not for: people, vehicles, machines overhead, or as a jack or stand. It does not clamp the work, and a support that "
        "stands proud "
        "can catch it and throw it back: set it flush or a shade low.",
    ]
    if derived.lift is not None and derived.lift.travel_mm > 0.0:
        found.insert(1, "Bring it down before you carry it, and stay inside the travel that this sheet states.")
    found.append(
        "Loads: every figure about load is an estimate and certifies nothing; try it with more than you need before you rely on it."
    )
    return tuple(found)


def _turning(design: Design) -> str:
    driver = next((drive for drive in design.drives if drive.turned_with == "driver"), None)
    heavy = "Stop when it grows heavy and look for what holds it."
    if driver is None:
        return f"Turn by hand only: a driver against a jammed foot breaks teeth. {heavy}"
    most = f"set to {driver.driver_torque} at most" if driver.driver_torque is not None else "at its lowest setting"
    return (
        f"Turn with a driver only when its clutch is {most}, and stay off it at both ends of the travel: against a jammed foot "
        f"it breaks teeth. {heavy}"
    )
