"""A plate to DXF: R2010, mm, a layer for each role, rings as closed polylines on KEEP and WASTE, hatching as plain lines.

Needs ezdxf (`pip install 'dovelayout[dxf]'`), which is loaded when the first file is made, and kept from writing its
caches into the user's folders. The same plate gives the same bytes.
"""

from __future__ import annotations

import configparser
import contextlib
import importlib
import io
import math
import os
import sys
import tempfile
import threading
from collections.abc import Iterator
from typing import Any

from dovelayout.drawing.lettering import corners, width_mm
from dovelayout.drawing.plate import Plate
from dovelayout.drawing.primitives import PENS, Anchor, Pen, Role, Text
from dovelayout.drawing.template.regions import RegionKind
from dovelayout.errors import PrintError
from dovelayout.render.files import MARK
from dovelayout.render.numbers import finite

INSTALL = "pip install 'dovelayout[dxf]'"

_ONE_AT_A_TIME = threading.Lock()
"""Whether ezdxf writes dates is a setting of the whole library, and its folders are one of the whole process."""

DECIMALS = 6
"""Of a mm, in every coordinate: no powers of ten, which not every reader of DXF takes."""

CAP_HEIGHT = 0.729
"""Height of a capital as a share of the size, DejaVu Sans (OS/2 sCapHeight): DXF gives texts by that height."""

LINEWEIGHTS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50)
"""Widths that DXF has, in 1/100 mm (group code 370)."""

_INERT = {"\\": "/", "^": "ˆ", "{": "(", "}": ")"}
"""What some reader or other takes for a command inside a text: \\P, \\U+, \\M+, ^J, {...}."""


def dxf_bytes(plate: Plate) -> bytes:
    """The whole DXF file of one plate. Raises PrintError when ezdxf isn't there or a coordinate is no number."""
    with _ONE_AT_A_TIME:
        return _written(_ezdxf(), plate)


def _written(ezdxf: Any, plate: Plate) -> bytes:
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True  # no dates, no random ids
    try:
        document = ezdxf.new("R2010", units=ezdxf.units.MM)
        document.header["$MEASUREMENT"] = 1
        document.header.custom_vars.append("DrawnBy", MARK)
        _add_layers(document)
        space = document.modelspace()
        for item in plate.items:
            if isinstance(item, Text):
                _add_text(space, item)
                continue
            for x1, y1, x2, y2 in item.segments:
                space.add_line(_point(x1, y1), _point(x2, y2), dxfattribs={"layer": layer(item.role)})
        for region in plate.regions:
            ring = [_point(x, y) for x, y in region.ring]
            space.add_lwpolyline(ring, close=True, dxfattribs={"layer": layer(region.kind)})
        _set_extents(document, plate)
        _order_classes(document)
        out = io.StringIO()
        document.write(out)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
    return out.getvalue().encode("utf-8")


def layer(of: Role | RegionKind) -> str:
    """The layer of a role or of a kind of region."""
    return of.value.upper()


def inert(text: str) -> str:
    """A text that no reader takes for a command, on one line: %%c, \\P, \\U+, \\M+, ^J and braces lose their meaning."""
    flat = "".join(_INERT.get(ch, ch) if ch.isprintable() else " " for ch in text)
    while "%%" in flat:
        flat = flat.replace("%%", "% %")
    return flat


def _ezdxf() -> Any:
    """The library, loaded with its caches and its settings kept out of the user's folders."""
    try:
        if "ezdxf" not in sys.modules:
            with _private_folders(), contextlib.redirect_stdout(io.StringIO()):
                importlib.import_module("ezdxf")
        import ezdxf
        import ezdxf.units
    except ImportError:
        raise PrintError(f"DXF files need ezdxf, which is not installed: {INSTALL}") from None
    except (SystemExit, configparser.Error):  # it reads an ezdxf.ini of the working folder, and exits for a bad one
        raise PrintError("ezdxf can't be loaded: the ezdxf.ini of this folder is broken") from None
    return ezdxf


@contextlib.contextmanager
def _private_folders() -> Iterator[None]:
    """During an import: caches and settings are looked for in an empty folder, which is removed afterwards."""
    names = ("XDG_CACHE_HOME", "XDG_CONFIG_HOME")
    before = {name: os.environ[name] for name in names if name in os.environ}
    with tempfile.TemporaryDirectory(prefix="dovelayout-") as folder:
        os.environ.update(dict.fromkeys(names, folder))
        try:
            yield
        finally:
            for name in names:
                os.environ.pop(name, None)
            os.environ.update(before)


def _add_layers(document: Any) -> None:
    for role, pen in PENS.items():
        name = layer(role)
        if pen.dash_mm:
            document.linetypes.add(name, pattern=_pattern(pen), description=f"{role.value}, dashes in mm")
        document.layers.add(name, linetype=name if pen.dash_mm else "Continuous", lineweight=_lineweight(pen))
    for kind in RegionKind:
        document.layers.add(layer(kind), lineweight=_lineweight(PENS[Role.KNIFE]))


def _pattern(pen: Pen) -> list[float]:
    """Whole length first, then dashes and gaps, gaps negative (group codes 40 and 49)."""
    signed = [length if number % 2 == 0 else -length for number, length in enumerate(pen.dash_mm)]
    return [math.fsum(pen.dash_mm), *signed]


def _lineweight(pen: Pen) -> int:
    return min(LINEWEIGHTS, key=lambda weight: abs(weight - pen.width_mm * 100))


def _add_text(space: Any, text: Text) -> None:
    """A text between two points, so that another font can't run it into a line (group code 72 = 5, fit)."""
    from ezdxf.enums import TextEntityAlignment

    words = inert(text.text)
    long_mm = width_mm(text.text, text.size_mm)
    if not words.strip() or long_mm <= 0:
        return
    start_mm = -{Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[text.anchor] * long_mm
    start, end = (
        _point(text.x_mm, text.y_mm + at_mm) if text.upwards else _point(text.x_mm + at_mm, text.y_mm)
        for at_mm in (start_mm, start_mm + long_mm)
    )
    rotation, attributes = 90.0 if text.upwards else 0.0, {"layer": layer(text.role)}
    entity = space.add_text(words, height=text.size_mm * CAP_HEIGHT, rotation=rotation, dxfattribs=attributes)
    entity.set_placement(start, end, align=TextEntityAlignment.FIT)


def _order_classes(document: Any) -> None:
    """The CLASSES section by name: left to itself, ezdxf adds some in the order of a set, which changes from run to run."""
    classes = document.classes
    classes.add_required_classes(document.dxfversion)
    in_order = sorted(classes.classes.items())
    classes.classes.clear()
    classes.classes.update(in_order)


def _set_extents(document: Any, plate: Plate) -> None:
    """The corners of everything drawn, for programs that zoom to them."""
    rings = (point for region in plate.regions for point in region.ring)
    xs, ys = zip(*rings, *corners(plate.items), strict=True)
    low, high = (*_point(min(xs), min(ys)), 0.0), (*_point(max(xs), max(ys)), 0.0)
    document.modelspace().reset_extents(low, high)
    document.header["$EXTMIN"], document.header["$EXTMAX"] = low, high  # ezdxf leaves out a corner at (0, 0)


def _point(x: float, y: float) -> tuple[float, float]:
    return (round(finite(x), DECIMALS) + 0.0, round(finite(y), DECIMALS) + 0.0)  # + 0.0: no minus zero
