"""The packet of a job in its own folder beside it: what is in it, of which revision, and handing it out."""

from __future__ import annotations

import io
import json
import zipfile
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.responses import Response

from ledgewright.desk.folder import Folder

ALL = "all.zip"
MANIFEST = "packet.json"
"""As the packet names its own list; named here too, so that no page waits for the drawing room to load."""
_OLDEST = (1980, 1, 1, 0, 0, 0)
_KINDS = {
    ".pdf": "application/pdf",
    ".svg": "image/svg+xml",
    ".csv": "text/csv; charset=utf-8",
    ".json": "application/json",
    ".dxf": "image/vnd.dxf",
    ".ics": "text/calendar; charset=utf-8",
}


@dataclass(frozen=True)
class Held:
    """A packet on disk: the revision it was built from, and its files with their sizes in bytes."""

    revision: str
    files: tuple[tuple[str, int], ...]


def place(folder: Folder, name: str) -> Path:
    """Return the folder a job's packet is written to.

    Raises:
        HTTPException: if a link there leads out of the desk's folder.
    """
    path = folder.packet(name)
    if path.is_symlink() or path.resolve().parent != folder.root:
        raise HTTPException(409, f"{path.name} leads out of the folder; take that link away first")
    return path


def held(folder: Folder, name: str) -> Held | None:
    """Return the packet that is there, or None: only files that its own list names."""
    out = place(folder, name)
    try:
        listed = json.loads((out / MANIFEST).read_text(encoding="utf-8"))
        names = [MANIFEST, *sorted(listed["files"])]
        revision = str(listed["revision"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
    found = [(each, _size(out, each)) for each in names]
    return Held(revision, tuple((each, size) for each, size in found if size is not None))


def _size(out: Path, name: str) -> int | None:
    path = out / name
    if Path(name).name != name or name.startswith(".") or path.is_symlink() or not path.is_file():
        return None
    return path.stat().st_size


def sent(folder: Folder, name: str, file: str) -> Response:
    """Return one file of a packet, or all of them in one.

    Raises:
        HTTPException: if the packet has no such file.
    """
    there = held(folder, name)
    out = place(folder, name)
    names = [each for each, _ in there.files] if there else []
    if file == ALL and names:
        return Response(
            _zipped(out, names),
            media_type="application/zip",
            headers=attached(f"{name} packet.zip"),
        )
    if file not in names:
        raise HTTPException(404, "the packet has no such file; build it first")
    kind = _KINDS.get(Path(file).suffix, "application/octet-stream")
    # a PDF is looked at in the browser, all else is saved
    headers = {} if kind == "application/pdf" else attached(file)
    return Response((out / file).read_bytes(), media_type=kind, headers=headers)


def _zipped(out: Path, names: list[str]) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as packed:
        for name in names:
            packed.writestr(zipfile.ZipInfo(name, _OLDEST), (out / name).read_bytes())
    return made.getvalue()


def attached(name: str) -> dict[str, str]:
    """Return the header by which a browser saves an answer under a name."""
    return {"Content-Disposition": f"attachment; filename*=UTF-8''{quote(name, safe='')}"}
