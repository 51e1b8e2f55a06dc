"""Who may come in from the network: one device for each code that the terminal shows, and nobody else.

A code is good once. It is said in the terminal and as a picture to point a phone at; a device that gives it gets a
cookie that only this run of the desk knows. Ten wrong guesses shut the gate until the desk is started again.
"""

from __future__ import annotations

import hmac
import io
import secrets
import threading
from collections.abc import Callable

import segno

COOKIE = "desk"
SIGNS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""Signs of a code: none that is taken for another when it is read out."""
LENGTH = 8
GUESSES = 10


class Gate:
    """The one code that opens now, and the devices that are in; requests of one process share it.

    Args:
        home: address of the desk on the network.
        told: hears what the terminal is to show: a new code and its picture.
    """

    def __init__(self, home: str, told: Callable[[str], None]) -> None:
        self.home = home
        self._told = told
        self._lock = threading.Lock()
        self._tokens: set[str] = set()
        self._wrong = 0
        self._code = _code()

    @property
    def code(self) -> str:
        """The code that opens now, in two halves; empty once the gate is shut."""
        return "" if self.shut else f"{self._code[:4]}-{self._code[4:]}"

    @property
    def shut(self) -> bool:
        """Whether too many wrong codes were given."""
        return self._wrong >= GUESSES

    @property
    def address(self) -> str:
        """What a phone is pointed at: the code stands behind the sign that browsers send to nobody."""
        return f"{self.home}join#{self.code}"

    def announce(self) -> None:
        """Say the code in the terminal, in letters and as a picture."""
        self._told(
            f"For one phone or tablet: {self.home}join  code {self.code}\n{picture(self.address)}"
            if self.code
            else "Too many wrong codes: nobody else comes in until the desk is started again."
        )

    def enter(self, code: str) -> str | None:
        """Return the token of a device that gave the right code, which is spent by that; None for a wrong one."""
        given = "".join(sign for sign in code.upper() if sign in SIGNS)
        with self._lock:
            if self.shut:
                return None
            if not hmac.compare_digest(given, self._code):
                self._wrong += 1
                if self._wrong == GUESSES:
                    self.announce()
                return None
            token = secrets.token_urlsafe(24)
            self._tokens.add(token)
            self._wrong = 0
            self._code = _code()
        self.announce()
        return token

    def admits(self, token: str) -> bool:
        """Say whether a device is in."""
        return any(hmac.compare_digest(token.encode(), each.encode()) for each in self._tokens)


def _code() -> str:
    return "".join(secrets.choice(SIGNS) for _ in range(LENGTH))


def picture(address: str) -> str:
    """Return an address as a picture of signs for the terminal."""
    out = io.StringIO()
    segno.make(address, error="m", micro=False).terminal(out=out, compact=True)
    return out.getvalue()


def drawing(address: str) -> str:
    """Return an address as a picture for a page, black on white."""
    return str(
        segno.make(address, error="m", micro=False).svg_inline(
            scale=5, border=4, dark="#000000", light="#ffffff", omitsize=True
        )
    )
