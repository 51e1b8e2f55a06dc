"""The command line. Answers go to stdout, talk to stderr; exit 0 passes, 1 fails or cannot say, 2 bad input.

Rooms are imported inside each verb, so that `--help` loads no numerics.
"""

from __future__ import annotations

import math
import os
import shlex
import signal
import sys
import threading
import time
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import click

from ledgewright import __version__

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from ledgewright.choose import Progress
    from ledgewright.crew import Crew
    from ledgewright.job import Finding, Job
    from ledgewright.memo import Memo
    from ledgewright.plan import Chosen, Plan
    from ledgewright.sheets.kept import Kept

BAD_INPUT = 2
JOB = click.argument("job_file", metavar="JOB.toml", type=click.Path(path_type=Path))
AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")


class _Verb(click.Command):
    """A command that says what is likely meant where a name with a space in it stands without quotes."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the arguments, as click does."""
        plain = [each for each in args if not each.startswith("-")]
        try:
            return super().parse_args(ctx, args)
        except click.UsageError as wrong:
            if "unexpected extra argument" in wrong.message and len(plain) > 1:
                whole = next((w for w in _joined(plain) if w.endswith(".toml")), "My shelf.toml")
                hint = f'{wrong.message}. A name with a space in it stands in quotes: "{whole}"'
                raise click.UsageError(hint, ctx) from wrong
            raise


def _joined(words: Sequence[str]) -> Iterator[str]:
    for many in range(2, len(words) + 1):
        yield " ".join(words[:many])


class _Verbs(click.Group):
    command_class = _Verb


@click.group(
    cls=_Verbs, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(__version__)
def main() -> None:
    """From a tape measure to a hung, tested floating shelf with a load limit.

    A calculation aid for people who build: the local code and a licensed engineer stand above it.
    """


@main.command(epilog="Example:  ledgewright new my-shelf.toml --example stoneware-corner")
@JOB
@click.option(
    "--example", metavar="NAME", help="Start from one of the examples; without it they are listed."
)
def new(job_file: Path, example: str | None) -> None:
    """Start a job file from an example; never writes over a file."""
    from ledgewright.desk import examples

    names = examples.names()
    if example is None:
        _refuse(f"name an example to start from with --example: {', '.join(names) or 'none'}")
    if example not in names:
        _refuse(f"there is no example {example!r}; there are: {', '.join(names) or 'none'}")
    if job_file.exists():
        _refuse(
            f"{job_file} is there already, and `new` never writes over a file: choose another name"
        )
    refused, beside = examples.copy(example, job_file)
    if refused:
        _end(refused, as_json=False)
    click.echo(f"{job_file} written from {example}.", err=True)
    for prices in beside:
        click.echo(f"{prices} written beside it: replace its placeholder prices.", err=True)


@main.command(
    epilog="Example:  ledgewright check examples/stoneware-corner.toml\n\n"
    "How sure that is:  ledgewright check examples/reading-alcove.toml --ranges"
)
@JOB
@AS_JSON
@click.option(
    "--ranges", is_flag=True, help="Also best, likely and worst, and what is worth measuring."
)
def check(job_file: Path, *, as_json: bool, ranges: bool) -> None:
    """Say whether it holds, how far the front drops, and how it goes on."""
    from ledgewright.sheets.answers import check_text
    from ledgewright.sheets.documents import check_document

    plan = _plan(job_file, as_json=as_json, ranges=ranges)
    if as_json:
        _print_json(check_document(plan))
    else:
        click.echo(check_text(plan), nl=False)
    sys.exit(0 if plan.verdict == "passes" else 1)


@main.command(epilog="Example:  ledgewright fit examples/stoneware-corner.toml")
@JOB
@AS_JSON
def fit(job_file: Path, *, as_json: bool) -> None:
    """Show the moves that bring the shelf onto its rods, and the alternatives."""
    from ledgewright.memo import Memo
    from ledgewright.sheets.answers import fit_text
    from ledgewright.sheets.documents import fit_document

    memo = Memo()
    plan = _plan(job_file, as_json=as_json, memo=memo, limits=False)
    if as_json:
        _print_json(fit_document(plan, memo))
    else:
        click.echo(fit_text(plan, memo), nl=False)
    sys.exit(0 if all(design.way for design in plan.designs) else 1)


@main.command(epilog="Example:  ledgewright scribe examples/stoneware-corner.toml")
@JOB
@AS_JSON
def scribe(job_file: Path, *, as_json: bool) -> None:
    """Show how the shelf lies to its walls, what is scribed off, and the straight cuts that do it."""
    from ledgewright.sheets.scribe_answer import does, scribe_document, scribe_text

    plan = _plan(job_file, as_json=as_json, limits=False)
    if as_json:
        _print_json(scribe_document(plan))
    else:
        click.echo(scribe_text(plan), nl=False)
    sys.exit(0 if does(plan) else 1)


@main.command(epilog="Example:  ledgewright cut examples/stoneware-corner.toml")
@JOB
@AS_JSON
@click.option(
    "--joints",
    is_flag=True,
    help="Judge every way to make the skins of an L; takes some seconds for each.",
)
def cut(job_file: Path, *, as_json: bool, joints: bool) -> None:
    """Show how sheets, boards and bars are cut up, with numbered cuts and what is bought."""
    from ledgewright.memo import Memo
    from ledgewright.plan import cut_up
    from ledgewright.sheets.cut_answer import cut_document, cut_text, whole

    memo = Memo()
    plan = _plan(job_file, as_json=as_json, memo=memo, limits=False)
    with _hand() as stop:
        cutting = cut_up(plan.job, plan.designs, plan.leave, memo, tell=_talk, stop=stop)
    plan = replace(plan, cutting=cutting)
    if as_json:
        _print_json(cut_document(plan, memo if joints else None))
    else:
        click.echo(cut_text(plan, memo if joints else None), nl=False)
    sys.exit(0 if whole(plan) else 1)


def _finite(_: click.Context, __: click.Parameter, value: float | None) -> float | None:
    """Refuse what is no number of seconds: a clock never comes to it."""
    if value is not None and not math.isfinite(value):
        msg = f"{value} is no number of seconds: write one such as 60"
        raise click.BadParameter(msg)
    return value


@main.command(
    epilog="Example:  ledgewright choose examples/reading-alcove.toml -o build/choose.pdf\n\n"
    "Write a choice into the job file:  ledgewright choose my-shelf.toml --apply 2"
)
@JOB
@AS_JSON
@click.option("--shelf", metavar="ID", help="Which shelf, where the job has several.")
@click.option(
    "--designs", type=click.IntRange(1, 100_000), help="How many to work through at most."
)
@click.option(
    "--seconds",
    type=click.FloatRange(1),
    callback=_finite,
    help="Stop after so long with the best so far.",
)
@click.option(
    "--processes",
    type=click.IntRange(1, 64),
    help="So many work on it at once; the answer is the same. Two unless there is but one core.",
)
@click.option(
    "--apply",
    "k",
    type=click.IntRange(1),
    help="Write choice K of the list printed last into the job file; searches only if there is none.",
)
@click.option(
    "-o",
    "--out",
    metavar="FILE.pdf",
    type=click.Path(path_type=Path),
    help="Write the choices as pages to print.",
)
def choose(
    job_file: Path,
    *,
    as_json: bool,
    shelf: str | None,
    designs: int | None,
    seconds: float | None,
    processes: int | None,
    k: int | None,
    out: Path | None,
) -> None:
    """Try what can be built, and show the few designs worth having; also what one change would do."""
    from ledgewright import crew
    from ledgewright.memo import Memo
    from ledgewright.sheets import kept
    from ledgewright.sheets.choose_answer import choose_document, choose_text, does

    if out is not None and out.exists():
        _refuse(f"{out} is there already: choose another name")
    if k is not None and seconds is not None:
        _refuse(
            "what is found in so many seconds is another list each time: run `choose` with --seconds first, "
            f"then `ledgewright choose {shlex.quote(str(job_file))} --apply {k}`, which takes the list just printed"
        )
    memo, text, prices, job = Memo(), *_texts(job_file, as_json=as_json)
    name = _shelf(job, shelf)
    if k is not None and out is None and designs is None:
        printed = kept.kept(job_file, text, prices, name)
        if printed is not None:
            _apply_kept(job_file, text, prices, name, printed, k, memo, as_json=as_json)
    with (
        _hand() as heard,
        crew.Crew(crew.Shelf(text, job.meta.file, prices, name), memo, processes) as mates,
    ):
        stop = _until(heard, seconds)
        found = _search(job_file, job, text, prices, name, memo, mates, designs, stop, as_json)
    if as_json:
        _print_json(choose_document(found, name))
    else:
        click.echo(choose_text(found, name), nl=False)
    if not kept.keep(job_file, found, name):
        click.echo(
            f"This list could not be kept beside {job_file}: --apply will search again.", err=True
        )
    if out is not None and found.choices is not None:
        from ledgewright.sheets.output import choose_pdf

        _write(out, choose_pdf(found, name))
    if k is not None:
        _apply(job_file, found, k, memo, as_json=as_json)
    sys.exit(0 if does(found) else 1)


def _texts(job_file: Path, *, as_json: bool) -> tuple[str, str | None, Job]:
    """The text of a job, of its price file, and what they say."""
    from ledgewright.job import files
    from ledgewright.job.reading import read
    from ledgewright.sheets.answers import findings_text

    name, text, prices, said = files.texts(job_file)
    if text is None:
        _end(said, as_json=as_json)
    made = read(text, name, prices, said=said)
    if made.job is None:
        _end(made.findings, as_json=as_json)
    notes = [f for f in made.findings if f.level == "note"]
    if notes:
        click.echo(findings_text(notes), err=True, nl=False)
    return text, prices, made.job


def _shelf(job: Job, shelf: str | None) -> str:
    names = [each.id for each in job.shelves]
    if shelf is None and len(names) == 1:
        return names[0]
    if shelf is None:
        _refuse(f"the job has several shelves: name one with --shelf: {', '.join(names)}")
    if shelf not in names:
        _refuse(f"there is no shelf {shelf!r}; there are: {', '.join(names)}")
    return shelf


def _until(stop: Callable[[], bool], seconds: float | None) -> Callable[[], bool]:
    end = None if seconds is None else time.monotonic() + seconds
    return lambda: stop() or (end is not None and time.monotonic() > end)


def _search(
    job_file: Path,
    job: Job,
    text: str,
    prices: str | None,
    shelf: str,
    memo: Memo,
    mates: Crew,
    designs: int | None,
    stop: Callable[[], bool],
    as_json: bool,
) -> Chosen:
    from ledgewright.plan import CannotLayError, chosen

    began = time.monotonic()

    def tell(at: Progress) -> None:
        if at.limits:
            _talk(f"{at.done} of {at.of} load limits of what is offered")
            return
        left = (time.monotonic() - began) / max(at.done, 1) * max(at.of - at.done, 0)
        passing = f"{at.passed} {'passes' if at.passed == 1 else 'pass'}"
        _talk(f"{at.done} of {at.of} designs, {passing}; about {math.ceil(left)} s left")

    try:
        found = chosen(
            job, text, prices, shelf, memo, crew=mates, designs=designs, tell=tell, stop=stop
        )
    except CannotLayError as error:
        _end(_layout_findings(job_file, error.found), as_json=as_json)
    if sys.stderr.isatty():
        click.echo("", err=True)
    return found


def _apply(job_file: Path, found: Chosen, k: int, memo: Memo, *, as_json: bool) -> None:
    """Write a choice into the job file, unless somebody changed it since it was read."""
    from ledgewright.job import edits
    from ledgewright.plan import NotSameError, with_choice
    from ledgewright.sheets.chosen_words import accepted_note

    try:
        text, tried = with_choice(found, k, memo)
    except KeyError:
        count = len(found.choices.front) if found.choices else 0
        _refuse(
            f"there is no choice {k}; " + (f"there are 1 to {count}" if count else "there is none")
        )
    except edits.BadEdit as bad:
        _refuse(f"choice {k} cannot be written: {bad}")
    except NotSameError as wrong:
        _refuse(f"choice {k} is not written: {wrong}")
    notes = accepted_note(found.job, found.choices.shelf) if found.choices else ()
    changed = bool(tried.edits)
    _save_choice(job_file, found.text, text, k, notes, changed=changed, as_json=as_json)


def _apply_kept(
    job_file: Path,
    text: str,
    prices: str | None,
    shelf: str,
    printed: Kept,
    k: int,
    memo: Memo,
    *,
    as_json: bool,
) -> NoReturn:
    """Write a choice of the list that was printed last: the job and its prices are what they were then."""
    from ledgewright.job import edits
    from ledgewright.plan import NotSameError, written

    if as_json:
        _print_json(printed.document)
    else:
        click.echo(printed.said, nl=False)
    one = next((each for each in printed.offered if each.k == k), None)
    if one is None:
        count = len(printed.offered)
        _refuse(
            f"there is no choice {k}; " + (f"there are 1 to {count}" if count else "there is none")
        )
    try:
        new = written(text, job_file.name, prices, shelf, one.edits, one.figures, memo)
    except edits.BadEdit as bad:
        _refuse(f"choice {k} cannot be written: {bad}")
    except NotSameError as wrong:
        _refuse(f"choice {k} is not written: {wrong}")
    changed = bool(one.edits)
    _save_choice(job_file, text, new, k, printed.notes, changed=changed, as_json=as_json)
    sys.exit(0)


def _save_choice(
    job_file: Path,
    old: str,
    new: str,
    k: int,
    notes: Sequence[str],
    *,
    changed: bool,
    as_json: bool,
) -> None:
    from ledgewright.job import edits, files

    if not changed:
        click.echo(f"Choice {k} is the job as it is: nothing is written.", err=True)
        return
    saved = files.save(job_file, new, base=edits.revision(old))
    if saved.revision is None:
        _end(saved.findings, as_json=as_json)
    for note in notes:
        click.echo(f"CAUTION: {note}", err=True)
    click.echo(
        f"Choice {k} written into {job_file}; {job_file.name}.bak keeps it as it was.", err=True
    )


@contextmanager
def _hand() -> Iterator[Callable[[], bool]]:
    """While inside, the first Ctrl-C is what is given, for the best found so far; the second ends it all."""
    heard: list[int] = []
    if threading.current_thread() is not threading.main_thread():
        yield lambda: False
        return

    def hear(number: int, _: object) -> None:
        signal.signal(signal.SIGINT, before)
        heard.append(number)
        _at_once("Stopped: the best found so far follows. Ctrl-C again gives up.\n")

    before = signal.signal(signal.SIGINT, hear)
    try:
        yield lambda: bool(heard)
    finally:
        signal.signal(signal.SIGINT, before)


def _at_once(said: str) -> None:
    """Say something from within a signal: Ctrl-C may come amid a write of progress, and no writer bears a second."""
    try:
        to = sys.stderr.fileno()
    except (OSError, ValueError):
        click.echo(said, err=True, nl=False)
    else:
        os.write(to, said.encode())


def _talk(said: str) -> None:
    """Say how far long work has come, where somebody looks on."""
    if sys.stderr.isatty():
        click.echo(f"\r{said:<60}", err=True, nl=False)


@main.command(
    epilog="Example:  ledgewright packet examples/stoneware-corner.toml -o build/stoneware\n\n"
    "What goes to the site, and what the client gets:  "
    "ledgewright packet examples/reading-alcove.toml -o build/alcove --for site --for client"
)
@JOB
@AS_JSON
@click.option(
    "-o", "--out", required=True, metavar="DIR", type=click.Path(path_type=Path), help="Where to."
)
@click.option(
    "--for",
    "wanted",
    multiple=True,
    type=click.Choice(["client", "shop", "site", "engineer", "all"]),
    help="For whom: that bundle's own PDF and the files that go with it. May stand several times; "
    "'all' is the whole packet and every bundle.  [default: the whole packet]",
)
def packet(job_file: Path, *, as_json: bool, out: Path, wanted: tuple[str, ...]) -> None:
    """Write the job packet: PDF, DXF, SVG, CSV and JSON; whole, or the bundles for those who need a part of it."""
    from ledgewright.memo import Memo
    from ledgewright.sheets import packet as write
    from ledgewright.sheets.output import parts_of
    from ledgewright.sheets.packet_answer import packet_document

    if out.exists() and not out.is_dir():
        _refuse(
            f"{out} is a file, and a packet is a folder: name another, or one that is not there yet"
        )
    parts, memo = parts_of(wanted), Memo()
    # The owner's label stands on the ranges, and the shop alone gets no page of them.
    ranges = parts != ("shop",)
    plan = _plan(job_file, as_json=as_json, memo=memo, ranges=ranges)
    try:
        written = write(plan, out, parts, memo)
    except OSError as error:
        _refuse(f"the packet cannot be written to {out}: {error.strerror or error}")
    if as_json:
        _print_json(packet_document(plan, written, parts, memo))
    for path in () if as_json else written:
        click.echo(str(path))
    click.echo(f"{plan.job.meta.name}: {plan.verdict}. The packet is in {out}.", err=True)
    sys.exit(0 if plan.verdict == "passes" else 1)


@main.command(
    epilog="Example:  ledgewright site examples/reading-alcove.toml -o build/site\n\n"
    "Before there is a job:  ledgewright site --blank questions.pdf --units mm"
)
@click.argument("job_file", metavar="[JOB.toml]", required=False, type=click.Path(path_type=Path))
@AS_JSON
@click.option(
    "-o",
    "--out",
    metavar="FILE.pdf",
    type=click.Path(path_type=Path),
    help="Write the sheets for the place: site measure, probing, blocking, photos, questions.",
)
@click.option(
    "--blank",
    metavar="FILE.pdf",
    type=click.Path(path_type=Path),
    help="Write the blank questions of a first visit; needs no job.",
)
@click.option("--units", type=click.Choice(["in", "mm"]), default="in", help="Of the blank sheet.")
def site(
    job_file: Path | None, *, as_json: bool, out: Path | None, blank: Path | None, units: str
) -> None:
    """Say how sure the place's figures are, what is known of each wall, how rods stand, what a load test tells."""
    for path in (blank, out):
        if path is not None and path.exists():
            _refuse(f"{path} is there already: choose another name")
    if blank is not None:
        from ledgewright.sheets.output import blank_questions

        _write(blank, blank_questions("mm" if units == "mm" else "in"))
        if job_file is None:
            return
    if job_file is None:
        _refuse("name a job file, or ask for the blank questions with --blank FILE.pdf")
    from ledgewright.sheets.siting import ready, site_document, site_text

    plan = _plan(job_file, as_json=as_json, limits=None)
    if as_json:
        _print_json(site_document(plan))
    else:
        click.echo(site_text(plan), nl=False)
    if out is not None:
        from ledgewright.sheets.output import site_pdf

        _write(out, site_pdf(plan))
    sys.exit(0 if ready(plan) else 1)


@main.command(epilog="Example:  ledgewright shop examples/stoneware-corner.toml -o build/shop")
@JOB
@AS_JSON
@click.option(
    "-o",
    "--out",
    metavar="DIR",
    type=click.Path(path_type=Path),
    help="Write the shop's pages, the quote, the shopping list (CSV) and the days (.ics) there.",
)
def shop(job_file: Path, *, as_json: bool, out: Path | None) -> None:
    """Tell hours, days, glue-up, finish and price of the whole job: the shop's side, not the client's."""
    from ledgewright.memo import Memo
    from ledgewright.plan import cut_up
    from ledgewright.sheets.shop_answer import does, shop_document, shop_text

    memo = Memo()
    plan = _plan(job_file, as_json=as_json, memo=memo, limits=False)
    with _hand() as stop:
        cutting = cut_up(plan.job, plan.designs, plan.leave, memo, tell=_talk, stop=stop)
    plan = replace(plan, cutting=cutting)
    if as_json:
        _print_json(shop_document(plan))
    else:
        click.echo(shop_text(plan), nl=False)
    if out is not None:
        from ledgewright.sheets.output import shop_packet

        try:
            written = shop_packet(plan, out)
        except OSError as error:
            _refuse(f"the files cannot be written to {out}: {error.strerror or error}")
        for path in written:
            click.echo(f"{path} written.", err=True)
    sys.exit(0 if does(plan) else 1)


def _write(path: Path, data: bytes) -> None:
    """Put a new file in its place."""
    try:
        with path.open("xb") as file:
            file.write(data)
    except OSError as error:
        _refuse(f"{path} cannot be written: {error.strerror or error}")
    click.echo(f"{path} written.", err=True)


@main.command(epilog="Example:  ledgewright stock bar")
@click.argument("kind", required=False)
def stock(kind: str | None) -> None:
    """List what can be bought, with the source of every figure."""
    from ledgewright import stock as room
    from ledgewright.sheets.catalogue import catalogue_text

    if kind is None:
        click.echo("\n".join(room.KINDS))
        return
    if kind not in room.KINDS:
        _refuse(f"there is no kind {kind!r}; there are: {', '.join(room.KINDS)}")
    click.echo(catalogue_text(kind), nl=False)


@main.command(epilog="Example:  ledgewright schema check")
@click.argument("verb", required=False)
def schema(verb: str | None) -> None:
    """Print the JSON Schema of the job file, or of a verb's --json output."""
    from ledgewright.sheets.schemas import SCHEMAS

    if verb is None or verb == "job":
        from ledgewright.job.schema import schema as job_schema

        _print_json(job_schema())
        return
    if verb not in SCHEMAS:
        _refuse(f"there is no schema of {verb!r}; there are: job, {', '.join(SCHEMAS)}")
    _print_json(SCHEMAS[verb]())


@main.command(epilog="Example:  ledgewright desk jobs")
@click.argument(
    "folder",
    required=False,
    default=Path(),
    type=click.Path(path_type=Path, exists=True, file_okay=False),
)
@click.option("--port", type=click.IntRange(0, 65535), default=8737, help="0 takes any free one.")
@click.option("--get", "path", metavar="PATH", help="Answer one request and exit; no server.")
@click.option("--lan", is_flag=True, help="Let a phone of this network in, by a code shown here.")
def desk(folder: Path, port: int, path: str | None, *, lan: bool) -> None:
    """Open the jobs of a folder in the browser of this machine; no network is used unless --lan says so."""
    from ledgewright import desk as room

    if path is not None:
        got = room.get(folder, path)
        sys.stdout.buffer.write(got.body)
        sys.exit(0 if got.status < 400 else BAD_INPUT)
    try:
        room.serve(folder, port, _told_address, _told_code if lan else None)
    except room.PortTaken as taken:
        _refuse(f"port {port} cannot be used ({taken}): name another with --port, or 0 for any")
    except room.NoNetwork as none:
        _refuse(f"this machine has no address on a network ({none}): leave --lan out, or join one")


def _told_code(text: str) -> None:
    click.echo(
        "Whoever is let in can read and change every job of this folder, and what passes is not secret: use --lan "
        f"on a network of your own.\n{text}",
        err=True,
    )


def _told_address(address: str) -> None:
    click.echo(f"Open {address} in a browser on this machine. Ctrl-C ends the desk.", err=True)


def _plan(
    job_file: Path,
    *,
    as_json: bool,
    memo: Memo | None = None,
    limits: bool | None = True,
    ranges: bool = False,
) -> Plan:
    """Read the job and work it through; findings end the run with exit 2."""
    from ledgewright.memo import Memo
    from ledgewright.plan import CannotLayError, full

    job = _job(job_file, as_json=as_json)
    try:
        return full(job, memo or Memo(), limits=limits, ranges=ranges)
    except CannotLayError as error:
        _end(_layout_findings(job_file, error.found), as_json=as_json)


def _job(job_file: Path, *, as_json: bool) -> Job:
    from ledgewright.job import files
    from ledgewright.sheets.answers import findings_text

    read = files.load(job_file)
    if read.job is None:
        _end(read.findings, as_json=as_json)
    notes = [f for f in read.findings if f.level == "note"]
    if notes:
        click.echo(findings_text(notes), err=True, nl=False)
    return read.job


def _layout_findings(job_file: Path, found: Sequence[tuple[str, str]]) -> list[Finding]:
    from ledgewright.job import files
    from ledgewright.job.findings import placed

    text, gone = files.text_of(job_file)
    if text is None:
        return [gone] if gone else []
    shelf = "change the legs, the depth, the rods or the figures of the wall"
    tape = "take the figure again at the wall, and write here what it reads then"
    return [
        placed(
            text,
            job_file.name,
            path,
            code="layout",
            wrong=wrong,
            right=shelf if path.startswith("shelf") else tape,
        )
        for path, wrong in found
    ]


def _end(findings: Sequence[Finding], *, as_json: bool) -> NoReturn:
    from ledgewright.sheets.answers import findings_text
    from ledgewright.sheets.documents import findings_document

    if as_json:
        _print_json(findings_document(findings))
    else:
        click.echo(findings_text(findings), err=True, nl=False)
    sys.exit(BAD_INPUT)


def _refuse(message: str) -> NoReturn:
    click.echo(message, err=True)
    sys.exit(BAD_INPUT)


def _print_json(document: object) -> None:
    import json

    click.echo(json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False))
