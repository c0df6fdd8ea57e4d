"""The six equations of a jaw pose, written out in numpy from the project's page on the mechanism.

Nothing here is taken from the Rust solver: the two must agree because they read the same page, not
because one was copied from the other. For the same reason nothing here uses the closed forms the
Rust side may use; every unknown of the pose stays an unknown and an equation is only ever evaluated.

Lengths are millimetres, angles degrees in the settings and radians in the maths. Frame: x anterior,
y left, z up, origin midway between the condyles. A jaw pose takes lower-frame points to the upper
frame: M p = R p + T.
"""

from dataclasses import dataclass, field
from math import radians, sin, cos, tan, sqrt

import numpy as np
from scipy.interpolate import PchipInterpolator

OTHER = {"right": "left", "left": "right"}
# The direction toward the midline, along y, seen from each condyle.
TO_MIDLINE = {"right": 1.0, "left": -1.0}


@dataclass
class Guide:
    horizontal_inclination_deg: float = 30.0
    lateral_angle_deg: float = 0.0
    immediate_translation_mm: float = 0.0
    early_amount_mm: float = 0.0
    early_over_mm: float = 4.0
    path: str = "Straight"
    arc_radius_mm: float | None = None
    profile_mm: list = field(default_factory=list)
    wall_tilt_deg: float = 0.0
    lateroretrusion_deg: float = 0.0
    laterosurtrusion_deg: float = 0.0

    def drop(self, a):
        """f(a): how far the superior wall has sunk after an advance a, at no medial shift."""
        h = radians(self.horizontal_inclination_deg)
        if self.path == "Straight":
            return a * tan(h)
        if self.path == "Arc":
            r = self.arc_radius_mm
            k = sin(h) - a / r
            return r * (sqrt(1.0 - k * k) - cos(h))
        if not hasattr(self, "_curve"):
            self._curve = PchipInterpolator(*np.array(self.profile_mm).T, extrapolate=False)
        return float(self._curve(a))

    def medial(self, a):
        """The medial wall after an advance a."""
        early = self.early_amount_mm * min(a / self.early_over_mm, 1.0)
        return self.immediate_translation_mm + early + a * tan(radians(self.lateral_angle_deg))


@dataclass
class Setting:
    design: str
    anterior_guide: str
    movement: str
    ratio: float
    advance_mm: float
    intercondylar_distance_mm: float
    incisal_point_mm: tuple
    pin_extension_mm: float
    sagittal_inclination_deg: float
    right_wing_deg: float
    left_wing_deg: float
    flat_half_width_mm: float
    right: Guide
    left: Guide

    def guide(self, side):
        return self.right if side == "right" else self.left


def rotation(rotvec):
    """Rodrigues' formula; a series near zero, where the quotients lose their digits."""
    rotvec = np.asarray(rotvec, float)
    x, y, z = rotvec
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    square = float(rotvec @ rotvec)
    if square < 1e-8:
        s, c = 1.0 - square / 6.0 + square**2 / 120.0, 0.5 - square / 24.0 + square**2 / 720.0
    else:
        angle = sqrt(square)
        s, c = sin(angle) / angle, (1.0 - cos(angle)) / square
    return np.eye(3) + s * cross + c * (cross @ cross)


def pose(unknowns):
    return rotation(unknowns[:3]), np.asarray(unknowns[3:], float)


def to_upper(pose_, p):
    r, t = pose_
    return r @ p + t


def to_lower(pose_, p):
    r, t = pose_
    return r.T @ (p - t)


def condyle_reading(setting, pose_, side):
    """(advance, medial, drop) of a sphere relative to its housing, as the jaw moves."""
    half = setting.intercondylar_distance_mm / 2.0
    c = np.array([0.0, -half if side == "right" else half, 0.0])
    if setting.design == "Arcon":
        d = to_upper(pose_, c) - c
    else:
        d = c - to_lower(pose_, c)
    return d[0], TO_MIDLINE[side] * d[1], -d[2]


def trough(setting):
    """The three planes as (name, unit normal toward the free side, point on it), in their own frame."""
    alpha = radians(setting.sagittal_inclination_deg)
    n0 = np.array([sin(alpha), 0.0, cos(alpha)])
    y = np.array([0.0, 1.0, 0.0])
    p = np.array(setting.incisal_point_mm)
    right, left = radians(setting.right_wing_deg), radians(setting.left_wing_deg)
    h = setting.flat_half_width_mm
    if setting.anterior_guide == "Table":
        return [
            ("plate", n0, p),
            ("right_wing", cos(right) * n0 + sin(right) * y, p - h * y),
            ("left_wing", cos(left) * n0 - sin(left) * y, p + h * y),
        ]
    # A roof: the incisal edge is kept below it, so the free side is against the page's normals.
    return [
        ("plate", -n0, p),
        ("right_wing", -(cos(right) * n0 - sin(right) * y), p - h * y),
        ("left_wing", -(cos(left) * n0 + sin(left) * y), p + h * y),
    ]


def guided_point(setting, pose_):
    """The gliding point in the frame of the planes it glides on."""
    p = np.array(setting.incisal_point_mm)
    if setting.anterior_guide == "Table":
        tip = p - np.array([0.0, 0.0, setting.pin_extension_mm])
        return to_lower(pose_, tip)
    return to_upper(pose_, p)


def plane_distances(setting, pose_):
    q = guided_point(setting, pose_)
    return np.array([n @ (q - on) for _, n, on in trough(setting)])


def condyle_equations(setting, pose_):
    """The five equations the two condyles give; zero where the pose obeys them."""
    t = setting.advance_mm
    read = {side: condyle_reading(setting, pose_, side) for side in ("right", "left")}
    if setting.movement == "protrusive":
        out = []
        for side in ("right", "left"):
            guide, (a, m, v) = setting.guide(side), read[side]
            out += [a - t, v - guide.drop(t) - m * tan(radians(guide.wall_tilt_deg))]
        return out + [read["right"][1] - read["left"][1]]

    working, kind = setting.movement.split("_")
    k = setting.ratio if kind == "lateroprotrusive" else 0.0
    orbiting = OTHER[working]
    guide, (a, m, v) = setting.guide(orbiting), read[orbiting]
    out = [
        a - t,
        m - (1.0 - k) * guide.medial(t),
        v - guide.drop(t) - m * tan(radians(guide.wall_tilt_deg)),
    ]
    guide, (a, m, v) = setting.guide(working), read[working]
    outward = -m
    return out + [
        a - k * t + outward * tan(radians(guide.lateroretrusion_deg)),
        v - guide.drop(k * t) + outward * tan(radians(guide.laterosurtrusion_deg)),
    ]


def cusp_reading(pose_, tooth, at, opposing_deg, occlusal_deg):
    """(separation, clearance) of a cusp; the tooth's number tells its arch and its side."""
    iota = radians(occlusal_deg)
    n = np.array([sin(iota), 0.0, cos(iota)])
    anterior = np.array([cos(iota), 0.0, -sin(iota)])
    at = np.asarray(at, float)
    quadrant = tooth // 10
    if quadrant in (3, 4):
        d = to_upper(pose_, at) - at
    else:
        d = -(to_lower(pose_, at) - at)
    outward = d[1] if quadrant in (2, 3) else -d[1]
    forward = d @ anterior
    protrusive, retrusive, working, nonworking = (tan(radians(x)) for x in opposing_deg)
    rise = max(0.0, forward * protrusive, -forward * retrusive, outward * working, -outward * nonworking)
    separation = -(d @ n)
    return separation, separation - rise
