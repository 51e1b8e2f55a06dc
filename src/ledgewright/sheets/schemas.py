"""JSON Schemas of what `--json` prints of every verb, published by `ledgewright schema VERB`."""

from __future__ import annotations

from typing import Any

Json = dict[str, Any]

NUMBER: Json = {"type": "number"}
TEXT: Json = {"type": "string"}
FLAG: Json = {"type": "boolean"}


def _object(**fields: Json) -> Json:
    return {
        "type": "object",
        "properties": fields,
        "required": list(fields),
        "additionalProperties": False,
    }


def _list(of: Json) -> Json:
    return {"type": "array", "items": of}


def _or_null(of: Json) -> Json:
    return {"anyOf": [of, {"type": "null"}]}


def _one_of(*words: str) -> Json:
    return {"enum": list(words)}


STATE = _one_of("passes", "fails", "cannot say")
RODS = _one_of("as drawn", "as set")
HEAD: Json = {
    "format": {"const": 1},
    "program": TEXT,
    "job": _object(name=TEXT, revision={"type": "string", "pattern": "^sha256:[0-9a-f]{64}$"}),
}
MOVE = _object(dx=NUMBER, dy=NUMBER, turn=NUMBER, note=TEXT)
POLYGON = _list({"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2})
DROP = _object(value=NUMBER, unit={"const": "mm"}, text=TEXT, limit=NUMBER, at=TEXT, case=TEXT)
STEP = _object(
    symbol=TEXT, formula=TEXT, numbers=TEXT, value=NUMBER, unit=TEXT, source=TEXT, assumed=FLAG
)
CHECK = _object(
    id=TEXT,
    family=TEXT,
    title=TEXT,
    place=_or_null(_object(wall=TEXT, member=TEXT, along=_or_null(NUMBER), up=_or_null(NUMBER))),
    withheld=FLAG,
    case=TEXT,
    demand=_or_null(NUMBER),
    capacity=_or_null(NUMBER),
    ratio=NUMBER,
    unit=TEXT,
    state=STATE,
    scope=_one_of("in", "stretched", "out"),
    information=FLAG,
    reason=TEXT,
    governs=FLAG,
    source=TEXT,
    working=_list(STEP),
)
MOST = _object(value=NUMBER, unit=TEXT, text=TEXT, limited_by=TEXT, check=TEXT, case=TEXT)
PARTS = _object(p05=NUMBER, p50=NUMBER, p95=NUMBER)
COUNT: Json = {"type": "integer", "minimum": 0}
RANGE = _object(today=PARTS, long_term=PARTS, samples=COUNT, seed=COUNT)
FRONT_DROP = _or_null(_object(today=DROP, long_term=DROP, range=_or_null(RANGE)))
SAMPLED = _object(value=NUMBER, error=NUMBER)
DRIVER = _object(
    figure=TEXT,
    words=TEXT,
    counts=TEXT,
    measure=TEXT,
    low=NUMBER,
    likely=NUMBER,
    high=NUMBER,
    source=TEXT,
    first=SAMPLED,
    total=SAMPLED,
)
ANSWER = _object(
    nominal=NUMBER,
    unit=TEXT,
    p05=SAMPLED,
    p50=SAMPLED,
    p95=SAMPLED,
    curve_off=NUMBER,
    limit=_or_null(NUMBER),
    chance=_or_null(SAMPLED),
    safe=_or_null(NUMBER),
    text=TEXT,
    drivers=_list(DRIVER),
)
DOUBT = _object(
    samples=COUNT,
    seed=COUNT,
    runs=COUNT,
    today=ANSWER,
    long_term=ANSWER,
    load_limit=_or_null(ANSWER),
    least=_or_null(
        _object(
            nominal=NUMBER, safe=NUMBER, unit=TEXT, draws=COUNT, sure=NUMBER, by=TEXT, text=TEXT
        )
    ),
    worth_measuring=_list(TEXT),
)
SIZE = _object(value=NUMBER, unit=TEXT, text=TEXT)
MODE = _object(
    title=TEXT,
    demand=NUMBER,
    capacity=NUMBER,
    ratio=NUMBER,
    unit=TEXT,
    case=TEXT,
    scope=_one_of("in", "stretched", "out"),
    reason=TEXT,
    source=TEXT,
    working=_list(STEP),
)
LOADS = _object(
    parts=_list(
        _object(
            load=TEXT,
            kind=_one_of("dead", "live", "single", "accident"),
            force=NUMBER,
            wall=TEXT,
            part=TEXT,
            spot=TEXT,
            along=NUMBER,
            out=NUMBER,
        )
    ),
    cases=_list(
        _object(
            case=TEXT,
            source=TEXT,
            factors=_object(dead=NUMBER, live=NUMBER, single=NUMBER, accident=NUMBER),
            parts=_list({"type": "integer", "minimum": 0}),
            proud=_or_null(TEXT),
            rods=_list(_object(rod=TEXT, down=NUMBER, moment=NUMBER)),
        )
    ),
)
RIVAL = _object(
    name=TEXT,
    first=TEXT,
    even=_or_null(SIZE),
    share=NUMBER,
    front_drop=_or_null(SIZE),
    modes=_list(MODE),
    note=TEXT,
)
CARRIES = _or_null(
    _object(
        even=MOST,
        single=MOST,
        total=MOST,
        leaves_out=TEXT,
        stop=_or_null(_object(even=NUMBER, unit={"const": "N/mm"}, check=CHECK)),
    )
)
SHELF = _object(
    id=TEXT,
    title=TEXT,
    rods_are=RODS,
    rods_read=_object(read=COUNT, of=COUNT),
    withheld=_list(TEXT),
    verdict=STATE,
    front_drop=FRONT_DROP,
    hang_tilt=_or_null(_object(value=NUMBER, unit={"const": "mm"}, text=TEXT, shim=TEXT)),
    checks=_list(CHECK),
    loads=_or_null(LOADS),
    load_limit=CARRIES,
    would_carry=CARRIES,
    rivals=_list(RIVAL),
    doubt=_or_null(DOUBT),
    fitting=_object(possible=FLAG, kind=_or_null(TEXT), moves=_list(MOVE), reason=TEXT),
)
END = _object(
    wall=TEXT,
    side=_one_of("left", "right"),
    beside=TEXT,
    how=_one_of("caulk", "filler", "tight"),
    back=NUMBER,
    front=NUMBER,
)
WAY = _object(
    id=TEXT,
    about=TEXT,
    possible=FLAG,
    reason=TEXT,
    moves=_list(MOVE),
    hold_off=NUMBER,
    eased=_list(_object(by=TEXT, off=_list(_object(out=NUMBER, by=NUMBER)))),
    channels=_list(
        _object(rod=TEXT, polygon=_or_null(POLYGON), area=_or_null(NUMBER), withheld=FLAG)
    ),
    loss=_object(
        channel_area=NUMBER,
        widest=NUMBER,
        longest_span=_or_null(NUMBER),
        ribs_cut=_or_null({"type": "integer", "minimum": 0}),
    ),
    front_drop=FRONT_DROP,
    room_needed=POLYGON,
    ends=_list(END),
)
BLOCK = _object(by=TEXT, move={"type": "integer", "minimum": 0}, short_by=_or_null(NUMBER))
OPENING = _object(
    way=TEXT,
    text=TEXT,
    verdict=_or_null(STATE),
    why=TEXT,
    edits=_list(_object(path=TEXT, text=_or_null(TEXT))),
)


def _document(title: str, **fields: Json) -> Json:
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        **_object(**fields),
    }


def check_schema() -> Json:
    """Return the JSON Schema (draft 2020-12) of what `check --json` prints on exit 0 or 1."""
    return _document(
        "ledgewright check",
        **HEAD,
        basis=_one_of("nds", "ec5"),
        verdict=STATE,
        because=_list(TEXT),
        shelves=_list(SHELF),
        assumed=_list(_object(path=TEXT, value=TEXT, why=TEXT)),
        cautions=_list(_object(id=TEXT, text=TEXT)),
        notes=_list(TEXT),
        open_items=_list(_object(path=TEXT, costs=TEXT)),
        not_computed=_list(_object(what=TEXT, why=TEXT)),
    )


def fit_schema() -> Json:
    """Return the JSON Schema (draft 2020-12) of what `fit --json` prints on exit 0 or 1."""
    return _document(
        "ledgewright fit",
        **HEAD,
        shelves=_list(
            _object(
                id=TEXT,
                title=TEXT,
                rods_are=RODS,
                withheld=_list(TEXT),
                glued=_list(TEXT),
                possible=FLAG,
                chosen=_or_null(TEXT),
                ways=_list(WAY),
                blocked=_list(BLOCK),
                opens=_list(OPENING),
            )
        ),
    )


FIGURE = _object(along=NUMBER, off=NUMBER)
PLACED = _object(
    turn=NUMBER,
    best_turn=NUMBER,
    saved=NUMBER,
    edges=_list(_object(edge=TEXT, along_string=NUMBER, at_best=NUMBER)),
)
EDGE = _object(
    wall=TEXT,
    leg=TEXT,
    side=_one_of("back", "left", "right"),
    bow=NUMBER,
    needs=NUMBER,
    sure_to=NUMBER,
    bevel=NUMBER,
    face=_list(FIGURE),
    cuts=_list(FIGURE),
    marks=_list(FIGURE),
    plan=POLYGON,
)


def scribe_schema() -> Json:
    """Return the JSON Schema (draft 2020-12) of what `scribe --json` prints on exit 0 or 1."""
    return _document(
        "ledgewright scribe",
        **HEAD,
        shelves=_list(
            _object(
                id=TEXT,
                title=TEXT,
                placed=_or_null(PLACED),
                allowance=_object(
                    has=NUMBER,
                    needs=NUMBER,
                    text=_list(TEXT),
                    edit=_or_null(_object(path=TEXT, text=TEXT)),
                ),
                tolerance=NUMBER,
                guide=_or_null(NUMBER),
                doubt=_list(TEXT),
                edges=_list(EDGE),
                outline=POLYGON,
                deepest=_or_null(
                    _object(turn=NUMBER, shift=_list(NUMBER), most=_list(NUMBER), short=NUMBER)
                ),
                strips=_list(
                    _object(
                        wall=TEXT,
                        length=NUMBER,
                        readings=_list(_object(along=NUMBER, gap=NUMBER)),
                    )
                ),
                heights=_list(TEXT),
                movement=_list(TEXT),
            )
        ),
    )


def site_schema() -> Json:
    """Return the JSON Schema (draft 2020-12) of what `site --json` prints on exit 0 or 1."""
    maybe = _or_null(NUMBER)
    whole = {"type": "integer", "minimum": 0}
    items = _list(_object(path=TEXT, costs=TEXT))
    return _document(
        "ledgewright site",
        **HEAD,
        ready=FLAG,
        tests=_list(
            _object(
                walls=_list(TEXT),
                heights=FLAG,
                surplus=whole,
                total=NUMBER,
                limit=maybe,
                scatter=NUMBER,
            )
        ),
        figures=_list(
            _object(
                path=TEXT,
                what=TEXT,
                kind=_one_of("tape", "gap", "angle", "height"),
                unit=_one_of("mm", "rad"),
                read=NUMBER,
                adjusted=NUMBER,
                sd=NUMBER,
                sd_read=NUMBER,
                share=NUMBER,
                finds=maybe,
                hides=maybe,
                test=NUMBER,
                take_again=FLAG,
            )
        ),
        corners=_list(_object(walls=_list(TEXT), angle=NUMBER, sd=NUMBER)),
        heights=_list(_object(wall=TEXT, along=maybe, letter=_or_null(TEXT), up=NUMBER, sd=NUMBER)),
        take_again=_list(_object(path=TEXT, text=TEXT, figures=_list(TEXT), reads_too_much=maybe)),
        one_more=_list(
            _object(marks=_list(_object(wall=TEXT, along=NUMBER)), checks=whole, holds=FLAG)
        ),
        walls=_list(
            _object(
                id=TEXT,
                known=_object(
                    how=TEXT,
                    by=_or_null(TEXT),
                    on=_or_null(TEXT),
                    up=maybe,
                    bearing=TEXT,
                    services=_or_null(TEXT),
                    fire=_or_null(TEXT),
                    photos=_list(TEXT),
                    engineer=_or_null(TEXT),
                ),
                may_be_drilled=FLAG,
                questions=_list(TEXT),
                open_items=items,
                lost=_list(_object(member=TEXT, why=TEXT)),
                holes=_list(_object(rod=TEXT, shelf=TEXT, edge=NUMBER, sd=NUMBER)),
            )
        ),
        shelves=_list(_on_site()),
    )


def _on_site() -> Json:
    """How far each rod of a section may be off, and what its readings come to."""
    maybe = _or_null(NUMBER)
    off = _object(drawn=NUMBER, read=maybe, off=NUMBER, below=NUMBER, above=NUMBER)
    stand = _object(
        along=NUMBER,
        out=NUMBER,
        up=NUMBER,
        turn=NUMBER,
        front_higher=NUMBER,
        right_higher=NUMBER,
    )
    return _object(
        id=TEXT,
        rods_are=RODS,
        withheld=_list(TEXT),
        go=_or_null(_one_of("go", "no go", "cannot say")),
        told=_list(TEXT),
        rods=_list(
            _object(
                rod=TEXT,
                ok=_or_null(FLAG),
                out=off,
                up_wall=off,
                up_tip=off,
                side_wall=off,
                side_tip=off,
                eats=_object(side=TEXT, up=TEXT, out=TEXT),
                wood_beside=maybe,
                embedment=maybe,
                shim=_or_null({"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2}),
                bonded=_or_null(
                    _object(stock=TEXT, length=NUMBER, embedment=NUMBER, hole=NUMBER, adhesive=TEXT)
                ),
            )
        ),
        stand=_or_null(stand),
        hang=_or_null(stand),
        ease=_list(
            _object(
                rod=TEXT,
                side=_one_of("left", "right", "end"),
                at=_one_of("mouth", "tip"),
                by=NUMBER,
            )
        ),
        reset=_list(TEXT),
        guides=_list(_guide()),
        load_test=_load_test(),
    )


def _guide() -> Json:
    """Ledger, guide block and comb of one wall that may be drilled."""
    return _object(
        wall=TEXT,
        lean=NUMBER,
        ledger=_object(
            up=NUMBER,
            start=NUMBER,
            end=NUMBER,
            thick=NUMBER,
            high=NUMBER,
            screw_down=_or_null(NUMBER),
            in_way=_list(TEXT),
        ),
        block=_object(wide=NUMBER, deep=NUMBER, above=NUMBER, over=NUMBER, hangs=NUMBER),
        comb=_object(out=_or_null(NUMBER), high=NUMBER),
        marks=_list(
            _object(
                rod=TEXT,
                along=NUMBER,
                held=_one_of("bar", "own", "wedges"),
                comb=NUMBER,
                packing=_or_null(NUMBER),
                bit=NUMBER,
                bar=NUMBER,
                shim=NUMBER,
                stop=NUMBER,
            )
        ),
    )


def _load_test() -> Json:
    """A load test to be made and as read."""
    maybe = _or_null(NUMBER)
    place = _object(wall=TEXT, along=NUMBER, down=_list(NUMBER), after_24h=NUMBER, unload_if=maybe)
    proposed = _object(
        times=NUMBER,
        total=NUMBER,
        single=NUMBER,
        spot=TEXT,
        at=_object(wall=TEXT, along=NUMBER),
        put=_list(_object(name=TEXT, wall=TEXT, along=NUMBER, out=NUMBER, mass=NUMBER)),
        ratio=NUMBER,
        by=TEXT,
        places=_list(place),
    )
    row = _object(
        step={"type": "integer", "minimum": 1},
        hours=NUMBER,
        wall=TEXT,
        along=NUMBER,
        predicted=NUMBER,
        low=NUMBER,
        high=NUMBER,
        read=NUMBER,
    )
    read = _object(
        passed=FLAG,
        why=_list(TEXT),
        still=_list(TEXT),
        most=NUMBER,
        held=NUMBER,
        recovery=maybe,
        growth=_or_null(_object(read=NUMBER, predicted=NUMBER)),
        loose=_list(TEXT),
        rows=_list(row),
        grip=_or_null(_object(middle=NUMBER, sd=NUMBER, chance=NUMBER)),
        allows=_object(even=NUMBER, single=NUMBER, total=NUMBER),
    )
    return _object(
        proposed=_or_null(proposed), why_not=TEXT, read=_or_null(read), beside=_list(TEXT)
    )


WHOLE: Json = {"type": "integer", "minimum": 0}
TASK = _object(
    id=TEXT,
    what=TEXT,
    of=TEXT,
    hours=NUMBER,
    visit=_or_null(TEXT),
    people=WHOLE,
    after=_list(_object(task=TEXT, hours=NUMBER, overnight=FLAG, why=TEXT)),
    drills=FLAG,
    clamps=WHOLE,
    stints=_list(_object(start=TEXT, end=TEXT)),
)
GLUE_UP = _object(
    section=TEXT,
    title=TEXT,
    glue=TEXT,
    area=NUMBER,
    thirsty=NUMBER,
    mass=NUMBER,
    volume=NUMBER,
    text=TEXT,
    hands=WHOLE,
    hands_needed=_or_null(WHOLE),
    fits=FLAG,
    pressings=_list(
        _object(
            what=_one_of("all of it", "core on the bottom skin", "top skin on the core"),
            bare_s=NUMBER,
            may_lie_s=NUMBER,
            whole_s=NUMBER,
            may_take_s=NUMBER,
            fits=FLAG,
        )
    ),
    clamps_needed=WHOLE,
    clamps=WHOLE,
    caul_spacing=NUMBER,
    cauls=_list(_object(wall=TEXT, at=_list(NUMBER))),
    leave_h=NUMBER,
    work_h=NUMBER,
    load_h=NUMBER,
)
BUY: Json = _object(
    what=TEXT,
    quantity=_or_null(NUMBER),
    unit=TEXT,
    packs=_or_null(WHOLE),
    pack=TEXT,
    on_hand=WHOLE,
    each=_or_null(NUMBER),
    total=_or_null(NUMBER),
    to_pay=_or_null(NUMBER),
    note=TEXT,
    placeholder=FLAG,
    **{"for": TEXT},
)
_AMOUNTS = (
    "hours labour burden materials sundries waste mark_up charged trips direct overhead contingency contingency_share "
    "cost net_margin before_least least net tax_on_materials tax_on_price total mark_up_share margin_of_mark_up "
    "net_margin_share"
)
PRICE = _object(
    currency=TEXT,
    final=FLAG,
    sheets_proven=FLAG,
    contingency_why=TEXT,
    **dict.fromkeys(_AMOUNTS.split(), NUMBER),
)
FINISH = _object(
    sections=_list(TEXT),
    sort=_one_of("paint", "clear", "oil"),
    grits=_list(TEXT),
    coats=_list(
        _object(
            name=TEXT,
            product=TEXT,
            area=NUMBER,
            volume=NUMBER,
            grit=TEXT,
            wait_h=NUMBER,
            on_site=FLAG,
        )
    ),
    handle_h=NUMBER,
    full_load_h=NUMBER,
)
SETTING = _object(
    adhesive=TEXT,
    rods=WHOLE,
    volume=NUMBER,
    mass=NUMBER,
    work_min=NUMBER,
    per_mix=WHOLE,
    mixes=WHOLE,
    cartridges=WHOLE,
)
SLOTS = _object(
    section=TEXT,
    adhesive=TEXT,
    rods=_list(TEXT),
    volume=NUMBER,
    mass=NUMBER,
    work_min=NUMBER,
    takes_min=NUMBER,
    fits=FLAG,
    cartridges=WHOLE,
    leave_h=NUMBER,
    load_h=NUMBER,
)
DAYS = _object(
    start=_or_null(TEXT),
    finish=_or_null(TEXT),
    heavy=_or_null(TEXT),
    working_days=WHOLE,
    proven=FLAG,
    visits=_list(_object(visit=TEXT, hours=NUMBER)),
)


def shop_schema() -> Json:
    """Return the JSON Schema (draft 2020-12) of what `shop --json` prints on exit 0 or 1."""
    return _document(
        "ledgewright shop",
        **HEAD,
        settled=FLAG,
        why=_list(TEXT),
        shop=_or_null(
            _object(
                withheld=_list(TEXT),
                undated=_or_null(TEXT),
                hours=NUMBER,
                hour_lines=_list(_object(what=TEXT, hours=NUMBER)),
                journeys=WHOLE,
                tasks=_list(TASK),
                waits=_list(_object(why=TEXT, after=TEXT, start=TEXT, end=TEXT)),
                days=DAYS,
                glue_ups=_list(GLUE_UP),
                rods=_list(SETTING),
                slots=_list(SLOTS),
                finishes=_list(FINISH),
                buy=_list(BUY),
                vans=_list(_object(visit=TEXT, items=_list(TEXT), why=TEXT)),
                price=_or_null(PRICE),
                missing=_list(TEXT),
                placeholders=_list(TEXT),
            )
        ),
    )


def findings_schema() -> Json:
    """Return the JSON Schema (draft 2020-12) of what any verb prints under --json on exit 2."""
    return _document(
        "ledgewright bad input",
        format={"const": 1},
        verdict={"const": "bad input"},
        findings=_list(
            _object(
                code=TEXT,
                level=_one_of("refuse", "question", "note"),
                file=TEXT,
                line=_or_null({"type": "integer"}),
                path=TEXT,
                value=TEXT,
                wrong=TEXT,
                right=TEXT,
            )
        ),
    )


def cut_schema() -> Json:
    """Return the schema of the answer of `cut --json`."""
    proof = _object(found=_or_null(NUMBER), bound=NUMBER, proven=FLAG, how=TEXT)
    size = _object(length=NUMBER, width=NUMBER, count={"type": "integer"})
    placed = _object(
        part=TEXT, x=NUMBER, y=NUMBER, length=NUMBER, width=NUMBER, turn={"type": "integer"}
    )
    cut = _object(
        number={"type": "integer"},
        of=TEXT,
        axis=_one_of("along", "across"),
        setting=NUMBER,
        at=NUMBER,
        start=NUMBER,
        end=NUMBER,
        gives=TEXT,
        leaves=_or_null(TEXT),
        why=_one_of("trim", "part", "rest"),
    )
    laid = _object(
        sheet=_object(length=NUMBER, width=NUMBER, source=_one_of("on hand", "bought")),
        placed=_list(placed),
        cuts=_list(cut),
        offcuts=_list(_object(x=NUMBER, y=NUMBER, length=NUMBER, width=NUMBER, keep=FLAG)),
    )
    bar = _object(length=NUMBER, pieces=_list(_object(part=TEXT, length=NUMBER)), left=NUMBER)
    strips = _object(width=NUMBER, thick=NUMBER, proof=proof, bars=_list(bar))
    return _object(
        **HEAD,
        rule=_one_of("straight guide", "panel saw", "router"),
        kerf=NUMBER,
        trim=NUMBER,
        sheets=_list(
            _object(
                panel=TEXT,
                bought=_list(size),
                on_hand=_list(size),
                waste=NUMBER,
                proof=proof,
                layouts=_list(laid),
            )
        ),
        boards=_list(
            _object(
                of=TEXT,
                thick=NUMBER,
                width=NUMBER,
                bought=_list(_object(length=NUMBER, count={"type": "integer"})),
                strips=_list(strips),
            )
        ),
        bars=_list(_object(of=TEXT, proof=proof, bars=_list(bar))),
        parts=_list(_object(label=TEXT, shelf=TEXT, name=TEXT, of=TEXT)),
        skins=_list(
            _object(
                shelf=TEXT,
                top=TEXT,
                bottom=TEXT,
                asked=FLAG,
                sheets=_or_null({"type": "integer"}),
                waste=_or_null(NUMBER),
                price=_or_null(NUMBER),
                verdict=_or_null(STATE),
                why=TEXT,
            )
        ),
        withheld=_list(TEXT),
        left=_list(_object(part=TEXT, why=TEXT)),
    )


def choose_schema() -> Json:
    """Return the schema of the answer of `choose --json`."""
    edits = _list(_object(path=TEXT, text=_or_null(TEXT)))
    tried: dict[str, Json] = {
        "text": TEXT,
        "edits": edits,
        "verdict": _one_of("passes", "fails", "cannot say", "cannot be built"),
        "why": TEXT,
        "price": _or_null(NUMBER),
        "drop_today": _or_null(NUMBER),
        "drop_long": _or_null(NUMBER),
        "mass": _or_null(NUMBER),
        "hours": _or_null(NUMBER),
        "holes": _or_null(COUNT),
        "governs": _or_null(_object(check=TEXT, title=TEXT, ratio=NUMBER)),
        "breaks": _list(TEXT),
        "no_price_for": _list(TEXT),
    }
    step = _object(question=TEXT, to=TEXT, inside=FLAG, **tried)
    door = _object(kind=TEXT, text=TEXT, edits=edits, engineer_must_accept=_list(TEXT))
    closed = _object(
        killed_by=_list(_object(check=TEXT, share=NUMBER)),
        cannot_say=_list(_object(check=TEXT, share=NUMBER)),
        nearest=_or_null(_object(**tried)),
        opens=_list(door),
    )
    return _object(
        **HEAD,
        shelf=TEXT,
        seed=COUNT,
        currency=_or_null(TEXT),
        withheld=_list(_object(wall=TEXT, questions=_list(TEXT))),
        why_not=TEXT,
        size=COUNT,
        tried=COUNT,
        built=COUNT,
        judged=COUNT,
        set_aside=COUNT,
        passed=COUNT,
        complete=FLAG,
        stopped=FLAG,
        as_is=_or_null(_object(**tried)),
        front=_list(
            _object(
                k={"type": "integer", "minimum": 1},
                tags=_list(_one_of("cheapest", "stiffest", "least drilling", "balanced")),
                **tried,
                load_even=_or_null(NUMBER),
                load_limited_by=TEXT,
                one_step_down=_list(step),
            )
        ),
        what_if=_list(_object(question=TEXT, load_even=_or_null(NUMBER), **tried)),
        nothing_passes=_or_null(closed),
        notes=_list(TEXT),
        not_computed=_list(_object(what=TEXT, why=TEXT)),
    )


def packet_schema() -> Json:
    """Return the JSON Schema of the answer of `packet --json`."""
    part = _one_of("whole", "client", "shop", "site", "engineer")
    return _object(
        **HEAD,
        verdict=STATE,
        parts=_list(
            _object(
                **{"for": part},
                file=TEXT,
                pages=_list(_object(name=TEXT, title=TEXT, about=TEXT)),
                left_out=_list(_object(title=TEXT, about=TEXT, why=TEXT, waits=FLAG)),
            )
        ),
        files=_list(_object(name=TEXT, bytes={"type": "integer", "minimum": 0})),
    )


SCHEMAS = {
    "choose": choose_schema,
    "cut": cut_schema,
    "check": check_schema,
    "fit": fit_schema,
    "scribe": scribe_schema,
    "site": site_schema,
    "shop": shop_schema,
    "packet": packet_schema,
    "bad-input": findings_schema,
}
