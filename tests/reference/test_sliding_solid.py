"""Key and host as solids in an independent solid kernel (manifold3d): the key lies in its housing, and on its way in from
the rear it meets nothing until it is home.

Each solid is the convex hull of two sections of the joint, at its two ends: cheeks are planes, straight or tapered. World:
x is u, y the station s, z the depth into the host.
"""

from __future__ import annotations

from typing import Any

import manifold3d
import numpy as np
import pytest
from manifold3d import Manifold
from shapely import Polygon

from dovelayout.joints.sliding import Cheek, SlidingJoint, Sloped, build_sliding
from dovelayout.joints.slope import Slope
from tests.slides import housing_section, sliding_spec, tongue_section

SHARE = 1e-6

JOINTS: dict[str, dict[str, Any]] = {
    "straight, through": {},
    "straight, stopped": {"stop_mm": 12.0},
    "tapered on the lower cheek": {"taper_ratio": 320.0, "stop_mm": 10.0},
    "tapered on the upper cheek": {"taper_ratio": 64.0, "taper_on": Cheek.UPPER},
    "barefaced, tapered": {"sloped": Sloped.UPPER, "taper_ratio": 320.0, "stop_mm": 12.0, "set_back_mm": 3.0},
    "barefaced, tapered on its square cheek": {"sloped": Sloped.LOWER, "taper_ratio": 200.0, "taper_on": Cheek.UPPER},
    "steep, with clearance": {"slope": Slope(4.0), "depth_mm": 9.5, "clearance_mm": 0.05},
    "no slip": {"slip_mm": 0.0, "taper_ratio": 320.0},
}


def _hull(sections: list[tuple[float, Polygon]]) -> Manifold:
    points = [(u, s, z) for s, polygon in sections for u, z in list(polygon.exterior.coords)[:-1]]
    return Manifold.hull_points(np.array(points))


def _solids(joint: SlidingJoint) -> tuple[Manifold, Manifold]:
    """The tongue, and the host with its housing open at the rear and at the face."""
    tongue = _hull([(s, tongue_section(joint, s)) for s in (joint.front_mm, joint.rear_mm)])
    # the housing goes on behind the host, at the same taper, so that the cut is clean
    housing = _hull([(s, housing_section(joint, s)) for s in (joint.front_mm, joint.host.width_mm + 50)])
    size = (joint.host.length_mm, joint.host.width_mm, joint.host.thickness_mm)
    return tongue, Manifold.cube(size) - housing


@pytest.mark.parametrize("name", JOINTS)
def test_key_at_home_and_on_its_way(name: str) -> None:
    joint = build_sliding(sliding_spec(**JOINTS[name]))
    tongue, host = _solids(joint)
    volume = tongue.volume()
    assert volume > 0
    assert host.status() == manifold3d.Error.NoError
    for travel_mm in (0.0, 0.01, 0.5, 10.0, 60.0, joint.length_mm / 2, joint.length_mm, joint.host.width_mm):
        assert (tongue.translate((0, travel_mm, 0)) ^ host).volume() < SHARE * volume, travel_mm


@pytest.mark.parametrize("name", JOINTS)
def test_void_around_the_key_is_the_slip_and_the_clearance(name: str) -> None:
    joint = build_sliding(sliding_spec(**JOINTS[name]))
    tongue, host = _solids(joint)
    room = Manifold.cube((joint.host.length_mm, joint.length_mm, joint.depth_mm)).translate((0, joint.front_mm, 0))
    void = (room - host - tongue).volume()
    floors = [joint.floor_at(s).width_mm for s in (joint.front_mm, joint.rear_mm)]
    over = [joint.housing_at(s, joint.tongue_mm).width_mm for s in (joint.front_mm, joint.rear_mm)]
    slip = joint.spec.slip_mm * joint.length_mm * sum(floors + over) / 4
    clearance = 2 * joint.spec.clearance_mm * joint.tongue_mm * joint.length_mm
    assert void == pytest.approx(slip + clearance, rel=1e-6, abs=SHARE * tongue.volume())


@pytest.mark.parametrize("name", [name for name, keys in JOINTS.items() if "stop_mm" in keys or "taper_ratio" in keys])
def test_a_stop_or_a_taper_holds_the_key_at_home(name: str) -> None:
    joint = build_sliding(sliding_spec(**JOINTS[name]))
    tongue, host = _solids(joint)
    assert (tongue.translate((0, -1.0, 0)) ^ host).volume() > 100 * SHARE * tongue.volume()


@pytest.mark.parametrize("name", JOINTS)
def test_the_dovetail_can_not_be_lifted_out_of_the_face(name: str) -> None:
    joint = build_sliding(sliding_spec(**JOINTS[name]))
    tongue, host = _solids(joint)
    assert (tongue.translate((0, 0, -2.0)) ^ host).volume() > 100 * SHARE * tongue.volume()
