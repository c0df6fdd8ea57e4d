"""A rigid-body engine lets the upper member settle on the guides; the resting poses go to settling.csv.

Nothing is solved here: the upper member is a heavy body with walls, dropped from an open position
onto the lower member, frictionless, pressed home by its weight and by pushes of about that size. Where it comes
to rest is the answer, and it comes from the engine's contacts alone.

What is built:
- The lower member is fixed, the upper member moves, as on the bench. `Arcon` carries the spheres on
  the lower and the walls on the upper member, `NonArcon` the other way about.
- A wall is a half-space set back by the sphere's radius, so that it is the sphere's centre that is
  guided. The same holds for the pin's tip, which is a very small sphere.
- The advance is imposed by a stop behind each condyle it is prescribed for, as a protrusive insert does.
- In protrusion both condyles shift equally toward the middle. That keeps the point midway between
  the spheres on the middle plane of the other member, which here is a keel: a small sphere on the
  one, a wall on the other, and a light sideways push to keep them together.
- In a lateral movement a sideways push holds the orbiting sphere against its medial wall, and a
  forward push holds the working one against its wall of lateroretrusion.

Contacts in such an engine give a little. How much is measured, not corrected: `overlap` columns give
the deepest overlap and the widest gap at rest of any contact that should be closed, and each setting
is settled three times, with another time step and with softer contacts, to say how far the pose moves.

    python settling.py          writes settling.csv beside this file
"""

import csv
import io
import platform
from math import cos, radians, sin, tan
from pathlib import Path

import mujoco
import numpy as np

SPHERE_MM = 5.0
TIP_MM = 0.05
# The engine works in metres and kilograms here, near the scale its defaults are made for.
MM = 1e-3
SECONDS = 6.0
TO_MIDLINE = {"right": 1.0, "left": -1.0}
OTHER = {"right": "left", "left": "right"}


def setting(title, design, movement, t, right, left, table, **more):
    made = dict(
        title=title, design=design, anterior_guide="Table", movement=movement, lateroprotrusive_ratio=0.0, advance_mm=t,
        intercondylar_distance_mm=110.0,
        incisal_point_mm=(98.0, 0.0, -42.0), pin_extension_mm=0.0,
    )
    for side, guide in (("right", right), ("left", left)):
        for name, value in zip(GUIDE, tuple(guide) + (0.0,) * (len(GUIDE) - len(guide))):
            made[f"{side}_{name}"] = value
        made.update({f"{side}_early_amount_mm": 0.0, f"{side}_early_over_mm": 4.0, f"{side}_path": "Straight"})
    for name, value in zip(TABLE, tuple(table) + (0.0,) * (len(TABLE) - len(table))):
        made[name] = value
    made.update(more)
    return made


GUIDE = (
    "horizontal_inclination_deg", "lateral_angle_deg", "immediate_translation_mm", "wall_tilt_deg", "lateroretrusion_deg",
    "laterosurtrusion_deg",
)
TABLE = ("sagittal_inclination_deg", "right_wing_deg", "left_wing_deg", "flat_half_width_mm")

SETTINGS = (
    setting("level table, equal guides", "Arcon", "protrusive", 6.0, (30, 15), (30, 15), (0,)),
    setting("inclined table, equal guides", "Arcon", "protrusive", 6.0, (40, 15), (40, 15), (20,)),
    setting("unequal guides", "Arcon", "protrusive", 5.0, (25, 10), (45, 20), (15,)),
    setting("unequal guides, wings, tip beside the middle", "Arcon", "protrusive", 4.0, (50, 10), (30, 20), (10, 20, 15, 0.5),
            incisal_point_mm=(92.0, 1.5, -38.0)),
    setting("raised pin", "Arcon", "protrusive", 3.0, (35, 15), (35, 15), (10,), pin_extension_mm=4.0),
    setting("tilted walls", "Arcon", "protrusive", 5.0, (30, 15, 0, 8), (40, 15, 0, -6), (10,)),
    setting("level table", "Arcon", "right_lateral", 6.0, (30, 15), (30, 15), (0,)),
    setting("level table, mirrored", "Arcon", "left_lateral", 6.0, (30, 15), (30, 15), (0,)),
    setting("wings", "Arcon", "right_lateral", 6.0, (40, 15), (40, 15), (45, 20, 20)),
    setting("wings with a flat between, unequal guides", "Arcon", "left_lateral", 5.0, (45, 20), (30, 10), (10, 25, 15, 1.0)),
    setting("immediate translation", "Arcon", "right_lateral", 4.0, (30, 15), (35, 12, 0.6), (20, 10, 15)),
    setting("working walls leading back and up", "Arcon", "right_lateral", 5.0, (30, 15, 0, 0, 15, 12), (40, 20), (15, 10, 10)),
    setting("working walls leading forward and down", "Arcon", "left_lateral", 5.0, (35, 20), (30, 15, 0, 0, -12, -10), (5, 20, 20)),
    setting("tilted orbiting wall, lowered pin", "Arcon", "right_lateral", 4.0, (30, 15), (35, 18, 0.3, 7), (10, 15, 10),
            pin_extension_mm=-1.5, incisal_point_mm=(100.0, -1.0, -50.0)),
    setting("spheres above, unequal guides", "NonArcon", "protrusive", 5.0, (25, 10), (45, 20), (15,)),
    setting("spheres above, raised pin", "NonArcon", "protrusive", 6.0, (40, 15), (40, 15), (30,), pin_extension_mm=6.0),
    setting("spheres above, wings", "NonArcon", "right_lateral", 6.0, (40, 15), (40, 15), (45, 20, 20)),
    setting("spheres above, raised pin, unequal guides", "NonArcon", "left_lateral", 5.0, (45, 20, 0.5), (30, 10), (10, 25, 15, 1.0),
            pin_extension_mm=5.0),
)


def unit(v):
    v = np.asarray(v, float)
    return v / np.linalg.norm(v)


def guide_walls(s):
    """Every closed contact of the condyles as (name, side or None, normal, point), for sphere centres.

    In housing coordinates (advance, medial, drop) first, each wall given by the direction in which
    the sphere is free to leave it, then turned into the frame of the member that carries it.
    """
    t, walls = s["advance_mm"], []

    def wall(name, side, free, through):
        # Advance, medial and drop are read from the sphere as seen from its housing: for `Arcon` the
        # displacement in the upper frame, for `NonArcon` the opposite of the one in the lower frame.
        sense = 1.0 if s["design"] == "Arcon" else -1.0
        axes = sense * np.array([[1.0, 0.0, 0.0], [0.0, TO_MIDLINE[side], 0.0], [0.0, 0.0, -1.0]])
        centre = np.array([0.0, -TO_MIDLINE[side] * s["intercondylar_distance_mm"] / 2.0, 0.0])
        walls.append((f"{side} {name}", side, unit(np.asarray(free) @ axes), centre + np.asarray(through) @ axes))

    def slopes(side):
        return [tan(radians(s[f"{side}_{x}_deg"])) for x in ("horizontal_inclination", "wall_tilt", "lateral_angle", "lateroretrusion", "laterosurtrusion")]

    if s["movement"] == "protrusive":
        for side in ("right", "left"):
            h, tilt, *_ = slopes(side)
            wall("superior wall", side, (-h, -tilt, 1.0), (0.0, 0.0, 0.0))
            wall("stop", side, (1.0, 0.0, 0.0), (t, 0.0, 0.0))
        walls.append(("keel", None, np.array([0.0, 1.0, 0.0]), np.zeros(3)))
        return walls
    working = s["movement"].split("_")[0]
    orbiting = OTHER[working]
    h, tilt, lateral, *_ = slopes(orbiting)
    wall("superior wall", orbiting, (-h, -tilt, 1.0), (0.0, 0.0, 0.0))
    wall("stop", orbiting, (1.0, 0.0, 0.0), (t, 0.0, 0.0))
    wall("medial wall", orbiting, (lateral, -1.0, 0.0), (0.0, s[f"{orbiting}_immediate_translation_mm"], 0.0))
    # Outward shift is the medial one with its sign turned: a = m tan(back), v = m tan(up).
    *_, back, up = slopes(working)
    wall("laterosurtrusion wall", working, (0.0, -up, 1.0), (0.0, 0.0, 0.0))
    wall("lateroretrusion wall", working, (1.0, -back, 0.0), (0.0, 0.0, 0.0))
    return walls


def table_planes(s):
    alpha, right, left = (radians(s[f"{x}_deg"]) for x in ("sagittal_inclination", "right_wing", "left_wing"))
    n0, y, p = np.array([sin(alpha), 0.0, cos(alpha)]), np.array([0.0, 1.0, 0.0]), np.array(s["incisal_point_mm"])
    h = s["flat_half_width_mm"] * y
    return [
        ("plate", n0, p),
        ("right_wing", cos(right) * n0 + sin(right) * y, p - h),
        ("left_wing", cos(left) * n0 - sin(left) * y, p + h),
    ]


def pushes(s):
    """Pushes on the upper member: (force in newtons, point in its own frame in mm).

    The jaw goes where the upper member is held back from: pushing the upper forward presses every
    sphere on the wall behind it, pushing it toward the orbiting side presses the medial wall.
    """
    w = s["intercondylar_distance_mm"]
    if s["movement"] == "protrusive":
        # Sideways to the right, onto the keel, and hard enough that no wing lifts it off again.
        return [((4.0, -4.0, 0.0), (0.0, 0.0, 0.0))]
    working = s["movement"].split("_")[0]
    out = TO_MIDLINE[OTHER[working]] * -1.0
    # The forward push acts nearer the working side: the medial wall already turns the upper there.
    # Sideways it must outweigh what a wing under the pin gives back, in force and in turning.
    return [((12.0, 0.0, 0.0), (0.0, -out * w / 8.0, 0.0)), ((0.0, out * 8.0, 0.0), (25.0, 0.0, 0.0))]


def quaternion_to_z(n):
    """The turn that takes +z to n."""
    z = np.array([0.0, 0.0, 1.0])
    axis, c = np.cross(z, n), float(z @ n)
    if c < -0.999999:
        return np.array([0.0, 1.0, 0.0, 0.0])
    q = np.array([1.0 + c, *axis])
    return q / np.linalg.norm(q)


def model_of(s, step, stiff_time, impedance):
    fixed, moving, pairs = [], [], []
    w = s["intercondylar_distance_mm"]
    walls_move = s["design"] == "Arcon"

    def floats(v, scale=1.0):
        return " ".join(format(float(x) * scale, ".17g") for x in v)

    def ball(into, name, at, radius):
        into.append(f'<geom name="{name}" type="sphere" size="{radius * MM:.17g}" pos="{floats(at, MM)}"/>')

    def plate(into, name, normal, on, radius):
        # A thick plate whose face is set back by the radius of what runs on it.
        half = np.array([40.0, 40.0, 20.0])
        at = on - normal * (radius + half[2])
        into.append(
            f'<geom name="{name}" type="box" size="{floats(half, MM)}" pos="{floats(at, MM)}" quat="{floats(quaternion_to_z(normal))}"/>'
        )

    def pair(first, second):
        pairs.append(
            f'<pair geom1="{first}" geom2="{second}" condim="1" solref="{stiff_time:.17g} 1" solimp="{impedance} {impedance} 0.001"/>'
        )

    spheres, walls = (fixed, moving) if walls_move else (moving, fixed)
    for side in ("right", "left"):
        ball(spheres, f"{side} sphere", (0.0, -TO_MIDLINE[side] * w / 2.0, 0.0), SPHERE_MM)
    for name, side, normal, on in guide_walls(s):
        if side is None:
            ball(spheres, "keel sphere", np.zeros(3), TIP_MM)
            # The push is to the upper's right: its wall stands left of the sphere, or its sphere left of the wall.
            plate(walls, name, -normal if walls_move else normal, on, TIP_MM)
            pair("keel sphere", name)
        else:
            plate(walls, name, normal, on, SPHERE_MM)
            pair(f"{side} sphere", name)
    ball(moving, "tip", np.array(s["incisal_point_mm"]) - [0.0, 0.0, s["pin_extension_mm"]], TIP_MM)
    for name, normal, on in table_planes(s):
        plate(fixed, name, normal, on, TIP_MM)
        pair("tip", name)
    # Weight between the condyles and the pin, so that all three carry; damping only shortens the wait.
    return f"""
<mujoco>
  <option timestep="{step:.17g}" gravity="0 0 -9.81" integrator="implicitfast" cone="elliptic"
          solver="Newton" iterations="200" tolerance="1e-15"/>
  <default><geom contype="0" conaffinity="0" density="0"/></default>
  <worldbody>
    {''.join(fixed)}
    <body name="upper">
      <joint name="upper" type="free" damping="2"/>
      <inertial pos="0.045 0 0" mass="1" diaginertia="0.004 0.004 0.004"/>
      {''.join(moving)}
    </body>
  </worldbody>
  <contact>{''.join(pairs)}</contact>
</mujoco>"""


def settle(s, step=5e-4, stiff_time=1e-3, impedance=0.9999):
    model = mujoco.MjModel.from_xml_string(model_of(s, step, stiff_time, impedance))
    data = mujoco.MjData(model)
    # Well clear of every wall: up, open in front, back past the stops and off the medial wall.
    t = s["advance_mm"]
    start = np.array([-(t + 1.0), 0.0, 9.0 + t])
    data.qpos[:3] = start * MM
    data.qpos[3:] = [cos(-0.05), 0.0, sin(-0.05), 0.0]
    body = model.body("upper").id
    for _ in range(round(SECONDS / step)):
        mujoco.mj_kinematics(model, data)
        data.xfrc_applied[:] = 0.0
        turn, at = data.xmat[body].reshape(3, 3), data.xpos[body]
        for force, point in pushes(s):
            arm = turn @ (np.array(point) * MM) + at - data.xipos[body]
            data.xfrc_applied[body, :3] += force
            data.xfrc_applied[body, 3:] += np.cross(arm, force)
        mujoco.mj_step(model, data)
    mujoco.mj_forward(model, data)
    return model, data


def jaw_pose(data, body):
    """The upper member's pose on the bench is the inverse of the jaw's."""
    turn, at = data.xmat[body].reshape(3, 3).copy(), data.xpos[body] / MM
    return turn.T, -turn.T @ at


def apart(s, one, other):
    """Greatest distance in mm between two poses' places for the condyles and the incisal point."""
    w = s["intercondylar_distance_mm"] / 2.0
    points = np.array([(0.0, -w, 0.0), (0.0, w, 0.0), s["incisal_point_mm"]])
    return max(np.linalg.norm((one[0] - other[0]) @ p + one[1] - other[1]) for p in points)


def rest(s, **how):
    model, data = settle(s, **how)
    closed, force = {}, np.zeros(6)
    for i in range(data.ncon):
        names = [model.geom(int(g)).name for g in data.contact[i].geom]
        wall = next(n for n in names if "sphere" not in n and n != "tip")
        mujoco.mj_contactForce(model, data, i, force)
        closed[wall] = (data.contact[i].dist / MM, force[0])
    expected = {name for name, *_ in guide_walls(s)}
    planes = {name for name, *_ in table_planes(s)}
    pressed = {name for name, (_, f) in closed.items() if f > 1e-3}
    # A guide that carries no load is not touched, and the pose would not be the one asked for.
    assert expected <= pressed and pressed & planes, (s["title"], closed)
    speed = np.abs(data.qvel[:3]).max() / MM
    return jaw_pose(data, model.body("upper").id), closed, pressed, speed, min(f for n, (_, f) in closed.items() if n in expected)


def number(value):
    value = float(value)
    return repr(value) if round(value, 3) == value else format(value, ".17g")


def main():
    rows = []
    for case, s in enumerate(SETTINGS, 1):
        at, closed, pressed, speed, lightest = rest(s)
        finer = rest(s, step=2.5e-4)[0]
        softer = rest(s, stiff_time=2e-3, impedance=0.999)[0]
        overlaps = [-closed[name][0] for name in pressed]
        row = {"case": case}
        for name, value in s.items():
            if name == "incisal_point_mm":
                for axis, x in zip("xyz", value):
                    row[f"incisal_point_at_rest_{axis}_mm"] = number(x)
            else:
                row[name] = value if isinstance(value, str) else number(value)
        for i in range(3):
            for j in range(3):
                row[f"r{i}{j}"] = number(at[0][i, j])
        for axis, value in zip("xyz", at[1]):
            row[f"t{axis}_mm"] = number(value)
        row["carrying"] = ";".join(sorted(pressed))
        row["deepest_overlap_mm"] = format(max(overlaps), ".2e")
        row["widest_gap_mm"] = format(max(0.0, -min(overlaps)), ".2e")
        row["speed_at_rest_mm_per_s"] = format(speed, ".2e")
        row["moved_by_half_time_step_mm"] = format(apart(s, at, finer), ".2e")
        row["moved_by_softer_contacts_mm"] = format(apart(s, at, softer), ".2e")
        print(case, s["title"], row["carrying"], *(f"{k}={row[k]}" for k in list(row)[-5:]), f"lightest={lightest:.3f}N", flush=True)
        rows.append(row)

    def worst(name):
        return max(float(row[name]) for row in rows)

    text = io.StringIO()
    for line in (
        "Poses at which the upper member comes to rest on the guides in a rigid-body engine.",
        "Made by settling.py, where nothing is solved for; run it again to make this file again.",
        f"Python {platform.python_version()}, NumPy {np.__version__}, MuJoCo {mujoco.__version__}; nothing random; {len(rows)} settings, all invented.",
        f"Deepest overlap of a contact {worst('deepest_overlap_mm'):.1e} mm, widest gap {worst('widest_gap_mm'):.1e} mm.",
        f"Half the time step moves a pose by {worst('moved_by_half_time_step_mm'):.1e} mm at most, contacts forty times softer by {worst('moved_by_softer_contacts_mm'):.1e} mm.",
        "Rotation rIJ and translation t take lower-frame points to the upper frame (the jaw's pose); x anterior, y left, z up.",
        "'carrying' names every wall under load at rest; the planes of the table are plate, right_wing and left_wing.",
    ):
        text.write(f"# {line}\n")
    table = csv.DictWriter(text, fieldnames=list(rows[0]), lineterminator="\n")
    table.writeheader()
    table.writerows(rows)
    Path(__file__).with_name("settling.csv").write_text(text.getvalue())


if __name__ == "__main__":
    main()
