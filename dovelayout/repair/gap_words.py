"""What is said about filling a gap: how it will look, what to glue it with, in which order. Common practice, no source,
except where a line says that it is ours."""

from __future__ import annotations

from collections.abc import Mapping

from dovelayout.repair.gap import GapPlace, Method

_LOOKS: Mapping[Method, str] = {
    Method.WAIT: "Nothing is done, so nothing shows when the damp months close it.",
    Method.LEAVE: "A hairline that only the maker knows of once the finish is on.",
    Method.DUST: "A dark line: dust in glue darkens, and thin CA darkens end grain wherever it soaks in. Seal ALL the "
    "end grain of the joint alike, or the one spot stands out; try it on an offcut with the finish on.",
    Method.SHAVING: "A fine line of its own colour, seen from near by.",
    Method.SLIP: "A slip of the same board, its end grain beside the pin's: a line as fine as its two glue lines, if "
    "the faces are clean.",
    Method.SLIVER: "A sliver of the same board, its end grain beside the pin's: it reads as a slightly wider pin.",
    Method.PATCH: "Glued to the pin, the patch makes the pin look wider and its end grain hides the seam; beside a "
    "tail's face the seam shows as a straight line.",
    Method.RECUT: "A filled gap of this width would show as a block of its own, and would not hold.",
}
_SHOULDER = "A line across the grain along the shoulder, which stays visible: it is short grain between long grain."
_LOOKS_AT: Mapping[tuple[Method, GapPlace], str] = {
    (Method.SHAVING, GapPlace.BASELINE): "A line across the grain at the shoulder, as a knife line looks.",
    (
        Method.SLIP,
        GapPlace.BASELINE,
    ): _SHOULDER,
    (
        Method.SLIVER,
        GapPlace.BASELINE,
    ): _SHOULDER,
    (Method.SLIP, GapPlace.LAP): "A fine line behind the lap at the edge of the front, seen with the drawer open.",
    (Method.PATCH, GapPlace.LAP): "A wider line behind the lap at the edge of the front, seen with the drawer open.",
}
_GLUE: Mapping[Method, str] = {
    Method.WAIT: "none",
    Method.LEAVE: "none; or a little hide glue or white PVA rubbed in before peening",
    Method.DUST: "liquid hide or white PVA with dust of the same board; thin CA only where all the end grain gets it",
    Method.SHAVING: "white PVA or liquid hide on both sides",
    Method.SLIP: "white PVA or liquid hide on both sides: a slip that fits leaves glue lines under 0.1 mm",
    Method.SLIVER: "white PVA or liquid hide, thin, on both sides: it must slide",
    Method.PATCH: "white PVA or liquid hide; slow epoxy where a seam stays over 0.15 mm. Polyurethane never: foam isn't wood",
    Method.RECUT: "none: glue doesn't make this joint",
}
_FLUSH = "Leave it proud. When the glue has cured, saw it off just over the surface and plane flush towards the joint."
_STEPS: Mapping[Method, tuple[str, ...]] = {
    Method.WAIT: (
        "Don't fill it, don't clamp it: mark its ends with a pencil tick and write the date and the "
        "humidity beside it.",
        "Look again in the damp months. What is still open then is the gap to repair.",
    ),
    Method.LEAVE: (
        "Leave it: glue and finish fill a line this fine.",
        "Or rub glue in and tap the end grain beside it with a small hammer while it is wet, so that the fibres spread "
        "over it; plane when it is dry.",
    ),
    Method.DUST: (
        "Collect fine dust of the same board, from a clean file or fine paper.",
        "Work glue into the gap, rub the dust in over it, and sand while it is still moist so that more dust fills it.",
        "Let it cure, plane flush, and seal all the end grain of the joint alike.",
    ),
    Method.SHAVING: (
        "Dust holds on end grain only: here a plane shaving of the same board goes in (ours).",
        "Plane shavings until one slides in by hand; stack two where one is loose.",
        "Glue both sides, slide it in, press the joint over it with a clamp and paper.",
        _FLUSH,
    ),
    Method.SLIP: (
        "Run a thin saw of known kerf down the gap, along the cheek, so that it has clean sides and one width all "
        "along: the slip is then that thickness.",
        "Saw or plane a slip from an offcut of the same board, its end grain to show where the pin's end grain shows.",
        "Glue both sides, slide it in by hand to the bottom of the gap.",
        _FLUSH,
    ),
    Method.SLIVER: (
        "Split or saw a sliver from an offcut of the same board, its end grain to show beside the "
        "end grain of the PIN.",
        "Pare it to a long, shallow taper as drawn: a fast taper splits the side.",
        "Glue it thinly, push it in and seat it with a light tap; stop when the sound changes.",
        _FLUSH,
    ),
    Method.PATCH: (
        "Pare both sides of the gap clean and parallel with a fine saw or chisel.",
        "Saw a patch from the waste of that very socket, or from the nearest offcut, a little thicker than the gap.",
        "Plane it down until it slides in by hand; glue it to the PIN side first, where end grain hides it.",
        _FLUSH,
        "Saw or pare the tail's side to fit only when it has cured.",
    ),
    Method.RECUT: (
        "Stop: no slip of this width holds.",
        "Recut on a new board. Or cut the end off square behind the joint, half-lap a new end of the same board onto "
        "it, let it cure, and lay the joint out anew from the template.",
        "Before that find out why: the next one will be the same otherwise (dovelayout repair diagnose).",
    ),
}
_FIRST_AT: Mapping[GapPlace, str] = {
    GapPlace.BASELINE: "First make sure that the joint is home: a gap all along the shoulder mostly means that it isn't. "
    "While the glue is open, draw it up with cauls on the tails.",
    GapPlace.LAP: "Press nothing in with a mallet or a wedge here: the lap breaks off before the wedge seats (ours). If "
    "one socket alone is open, its floor is high: that can still be pared before the glue-up.",
    GapPlace.CHEEK: "A gap down a cheek is a face that isn't glued: what goes in has to touch both sides for its whole "
    "depth.",
}


def looks_words(method: Method, place: GapPlace) -> str:
    """What will be seen afterwards."""
    return _LOOKS_AT.get((method, place), _LOOKS[method])


def glue_words(method: Method) -> str:
    """What to glue it with."""
    return _GLUE[method]


def step_words(method: Method, place: GapPlace) -> tuple[str, ...]:
    """The steps in their order."""
    steps = _STEPS[method]
    if method in (Method.WAIT, Method.RECUT):
        return steps
    if method is Method.LEAVE and place is not GapPlace.END:  # there is no end grain there to spread
        steps = steps[:1]
    if method is Method.PATCH and place is GapPlace.LAP:
        steps = (
            *steps[:2],
            "Plane it down until it slides in by hand; glue it to the tail's end, not to the lap.",
            _FLUSH,
        )
    if method is Method.SLIP and place is GapPlace.LAP:
        steps = steps[1:]  # no saw reaches behind a lap
    first = _FIRST_AT.get(place)
    return steps if first is None else (first, *steps)
