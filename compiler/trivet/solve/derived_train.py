"""What follows about the gear train: frozen records, each number with its because. Lengths in mm, angles in radians unless said."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from trivet.model.base import Band
from trivet.model.train import Gear, Mesh
from trivet.record import record
from trivet.source import Origin

if TYPE_CHECKING:
    from trivet.solve.gear_size import ToothGeometry
    from trivet.solve.mesh_geometry import MeshGeometry


@record
class Because:
    """How a number came about: the formula in words or symbols, its inputs (name, printed value, place) and the formula's source."""

    quantity: str
    value: str
    formula: str
    inputs: tuple[tuple[str, str, Origin | None], ...]
    source: str


@record
class GearState:
    """A gear in its place.

    `speed`: turns per drive turn, unsigned and exact (None when the drive does not reach it). `direction`: +1 turns with the drive,
    -1 against it, 0 unreached. `level` 0 hangs directly under its board, 1 the next down. `z_top`: top face at the least extension,
    over sheets and play; `face_width`: the gear's thickness. `path`: gear ids from the drive. `hole_mm`: the bore as cut; `hole_because`.
    Places are in the world frame. `shaft`: id of the gear whose drive, pivot or foot holds this one (itself, save on a shared shaft);
    `kind` is that gear's, `foot_id` stands only at a gear that carries a foot itself.
    """

    id: str
    gear: Gear
    kind: Literal["drive", "idler", "foot"]
    geometry: ToothGeometry
    cutter_diameter_mm: float
    largest_cutter_mm: float
    cutter_limit: str
    x_mm: float
    y_mm: float
    phase_rad: float
    speed: Fraction | None
    direction: int
    level: int
    face_width: Band
    z_top: Band
    path: tuple[str, ...]
    hole_mm: float
    hole_because: str
    foot_id: str = ""
    shaft: str = ""
    because: tuple[Because, ...] = ()

    @property
    def tip_radius_mm(self) -> float:
        """Radius of the tip circle."""
        return self.geometry.tip_radius_mm


@record
class Backlash:
    """Circumferential, on the working circle at the nominal centres, mm; `contributors`: (what, worst-case share, rss share), largest first."""

    nominal_mm: float
    min_mm: float
    max_mm: float
    rss_mm: float
    contributors: tuple[tuple[str, float, float], ...]


@record
class MeshState:
    """Two gears in mesh at their nominal centres. `interference_a_mm` > 0: the tip of `a` reaches past the involute of `b`.

    `overlap`: shared face width (mm) at the least and the most extension, at mean sheets; `overlap_worst` over sheets and play.
    `contact_ratio_min`, `working_depth_min_mm`: at the widest centres. `slides`: the axial shift per mm of travel between the two.
    Centre distances: `standard_…` m (z1 + z2)/2, `tight_…` without backlash before thinning, `…_least_mm`, `…_most_mm` with every error,
    `…_likely_mm` with the root sum of squares of what brings the axes nearer. `closer_mm`: how much nearer the gears come for each percent
    of moisture (wetter, drier), and `moisture_mm` over the shop's range.
    """

    id: str
    mesh: Mesh
    a: str
    b: str
    geometry: MeshGeometry
    centre_distance_mm: float
    standard_centre_distance_mm: float
    working_pressure_angle_deg: float
    contact_ratio: float
    contact_ratio_min: float
    working_depth_min_mm: float
    tip_clearance_mm: float
    interference_a_mm: float
    interference_b_mm: float
    backlash: Backlash
    placed_by_it: bool
    in_loop: bool
    tight_centre_distance_mm: float
    centre_distance_least_mm: float
    centre_distance_most_mm: float
    centre_distance_likely_mm: float
    closer_mm: tuple[float, float]
    moisture_mm: float
    slides: float = 0.0
    overlap_at_least_mm: float | None = None
    overlap_at_most_mm: float | None = None
    overlap_worst_mm: float | None = None
    because: tuple[Because, ...] = ()


@record
class LoopState:
    """A closed ring of meshes in ring order. `odd` rings lock. `residual_mm`: arc left at the last mesh; `allowed_mm`: half the sum of least backlash."""

    gears: tuple[str, ...]
    odd: bool
    residual_mm: float
    allowed_mm: float
    in_half_pitch: float = 0.0
    origin: Origin | None = None


@record
class SpeedConflict:
    """A gear that two paths drive at different signed speeds."""

    gear: str
    speed_one: Fraction
    path_one: tuple[str, ...]
    speed_two: Fraction
    path_two: tuple[str, ...]
    origin: Origin | None = None


@record
class PlacementFault:
    """Why gears have no place, or two. Kind is `no_place`, `two_places` (stated and derived differ), `mesh_distance` (too close),
    `two_levels` (meshes and shafts ask for different levels) or `unlike_teeth` (in mesh with another module or pressure angle).
    """

    kind: Literal["no_place", "two_places", "mesh_distance", "two_levels", "unlike_teeth"]
    gear: str
    message: str
    measured_mm: float | None
    allowed_mm: float | None
    origin: Origin | None = None


@record
class Train:
    """The gear train."""

    gears: tuple[GearState, ...]
    meshes: tuple[MeshState, ...]
    loops: tuple[LoopState, ...]
    conflicts: tuple[SpeedConflict, ...]
    faults: tuple[PlacementFault, ...]
    unreached: tuple[str, ...]
    drive_gear: str | None

    def gear(self, name: str) -> GearState:
        """The gear called `name`."""
        return next(item for item in self.gears if item.id == name)
