"""Torque and self-holding of a screw under an axial force. Newtons, mm, N·mm, radians.

Textbook form for flanked threads: friction over the cosine of half the flank angle (Wentzell, Machine Elements, examples 18.1 to 18.3;
Jindal, Machine Design, example 16-1; both by a published copy). The flank angle is taken in the axial plane: for a 60 degree thread that is
0.04 % away from the normal plane.
"""

from __future__ import annotations

import math

from trivet.model.hardware import Thread

# Half the flank angle of ISO and unified threads (ISO 68-1, from memory).
HALF_FLANK_RAD = math.radians(30.0)
# Pitch and root diameters of the 60 degree profile, in pitches below the major diameter (ISO 724 and ISO 68-1, from memory).
PITCH_DIAMETER_PITCHES = 0.649519
ROOT_DIAMETER_PITCHES = 1.226869


def pitch_diameter_mm(thread: Thread) -> float:
    """As the table has it, else d − 0.649519 P, mm."""
    return thread.pitch_diameter_mm or thread.major_mm - PITCH_DIAMETER_PITCHES * thread.pitch_mm


def root_diameter_mm(thread: Thread) -> float:
    """Of the screw: d − 1.226869 P, mm."""
    return thread.major_mm - ROOT_DIAMETER_PITCHES * thread.pitch_mm


def lead_angle_rad(lead_mm: float, pitch_diameter: float) -> float:
    """atan(lead / (π d2))."""
    return math.atan2(lead_mm, math.pi * pitch_diameter)


def torque_to_raise(
    force_n: float, pitch_diameter: float, lead_mm: float, friction: float, half_flank_rad: float = HALF_FLANK_RAD
) -> float:
    """Thread torque, N·mm: (F d2 / 2) (l + π f' d2) / (π d2 − f' l) with f' = f / cos(half flank); infinite where it jams."""
    f = friction / math.cos(half_flank_rad)
    below = math.pi * pitch_diameter - f * lead_mm
    return force_n * pitch_diameter / 2.0 * (lead_mm + math.pi * f * pitch_diameter) / below if below > 0.0 else math.inf


def torque_to_lower(
    force_n: float, pitch_diameter: float, lead_mm: float, friction: float, half_flank_rad: float = HALF_FLANK_RAD
) -> float:
    """Thread torque, N·mm: (F d2 / 2) (π f' d2 − l) / (π d2 + f' l). Negative: it runs back by itself."""
    f = friction / math.cos(half_flank_rad)
    return force_n * pitch_diameter / 2.0 * (math.pi * f * pitch_diameter - lead_mm) / (math.pi * pitch_diameter + f * lead_mm)


def ring_friction_torque(force_n: float, friction: float, mean_radius_mm: float) -> float:
    """A collar's, N·mm: f F r at the mean radius."""
    return friction * force_n * mean_radius_mm


def disc_friction_torque(force_n: float, friction: float, radius_mm: float) -> float:
    """A solid pad's under even pressure, N·mm: 2/3 f F R (Sadhu Singh, Machine Design, example 9.5, by a published copy: f F d / 3)."""
    return 2.0 / 3.0 * friction * force_n * radius_mm


def efficiency(force_n: float, lead_mm: float, torque_nmm: float) -> float:
    """Work lifted over work turned in: F l / (2 π T)."""
    return force_n * lead_mm / (2.0 * math.pi * torque_nmm)


def holds_by_itself(lead_mm: float, pitch_diameter: float, friction: float, half_flank_rad: float = HALF_FLANK_RAD) -> bool:
    """Whether the thread alone holds: its lead angle is less than atan(f / cos(half flank)). A collar's friction is left out: it can hide
    a thread that runs back (Shigley, Mechanical Engineering Design, example 8-1, from memory).
    """
    return lead_angle_rad(lead_mm, pitch_diameter) < math.atan(friction / math.cos(half_flank_rad))
