"""The program's own formulas made safe to set: no formula may stop a packet."""

from __future__ import annotations

import re

_KNOWN = frozenset(
    [
        "alpha",
        "beta",
        "gamma",
        "delta",
        "epsilon",
        "zeta",
        "eta",
        "theta",
        "kappa",
        "lambda",
        "mu",
        "nu",
        "xi",
        "pi",
        "rho",
        "sigma",
        "tau",
        "phi",
        "chi",
        "psi",
        "omega",
        "Gamma",
        "Delta",
        "Theta",
        "Lambda",
        "Xi",
        "Pi",
        "Sigma",
        "Phi",
        "Psi",
        "Omega",
        "sqrt",
        "root",
        "frac",
        "abs",
        "min",
        "max",
        "sin",
        "cos",
        "tan",
        "sinh",
        "cosh",
        "tanh",
        "exp",
        "ln",
        "log",
        "dot",
        "times",
        "plus",
        "minus",
        "div",
        "lt",
        "gt",
        "approx",
        "upright",
        "sum",
        "integral",
        "infinity",
        "quad",
        "thin",
        "prime",
        "slash",
        "paren",
    ]
)
_SIGN = re.compile(r'"[^"]*"|[A-Za-z][A-Za-z]+(?:\.[A-Za-z]+)*|[#$\\@<>`~]+|.', re.DOTALL)


def mathematics(text: str) -> str:
    """Return a formula in typst mathematics whose every name is known to it.

    Names of two letters and more that are no function or symbol are set upright as words, signs that
    would begin code are dropped, and a formula with an open quotation mark or bracket is shown as a word.

    Args:
        text: a `Step`'s symbol, formula or numbers.
    """
    if text.count('"') % 2 or not _balanced(text):
        return quoted(text)
    return "".join(_safe(sign) for sign in _SIGN.findall(text))


def level(text: str) -> str:
    """Return a long formula on one level, so that it may break at its signs: a over b becomes (a) / (b).

    Brackets are turned into plain signs, since the engine never breaks inside a pair; those that belong to
    a root, a power or an index stay.

    Args:
        text: a `Step`'s numbers.
    """
    out = ""
    while text:
        call = _CALL.match(text)
        if call:
            inner, text = _inner(text[call.end() :])
            out += _called(call[1], inner)
        else:
            out, text = out + text[0], text[1:]
    return out


_CALL = re.compile(r"([A-Za-z]*|[\^_])\(")
_KEPT = frozenset(["sqrt", "root", "^", "_"])


def _called(name: str, inner: str) -> str:
    if name in _KEPT:
        return f"{name}({inner})"
    if name == "frac":
        over, under = _halves(inner)
        return f"{_bracketed(over)} slash {_bracketed(under)}"
    return f"{name}{_bracketed(inner)}"


def _bracketed(inner: str) -> str:
    return f" paren.l {level(inner)} paren.r "


def _inner(text: str) -> tuple[str, str]:
    """Return what stands before the bracket that closes, and what stands after it."""
    depth = 1
    for k, c in enumerate(text):
        depth += {"(": 1, ")": -1}.get(c, 0)
        if depth == 0:
            return text[:k], text[k + 1 :]
    return text, ""


def _halves(text: str) -> tuple[str, str]:
    """Part at the comma that stands in no bracket."""
    depth = 0
    for k, c in enumerate(text):
        depth += {"(": 1, ")": -1}.get(c, 0)
        if c == "," and depth == 0:
            return text[:k].strip(), text[k + 1 :].strip()
    return text, "1"


def _safe(sign: str) -> str:
    if sign[0] == '"' and len(sign) > 1:
        return sign
    if len(sign) > 1 and sign[0].isalpha():
        return sign if sign.split(".", maxsplit=1)[0] in _KNOWN else quoted(sign)
    return sign if sign in ("<", ">") or sign[0] not in '#$\\@`~"<>' else ""


def _balanced(text: str) -> bool:
    depth = 0
    for c in re.sub(r'"[^"]*"', "", text):
        depth += {"(": 1, "[": 1, "{": 1, ")": -1, "]": -1, "}": -1}.get(c, 0)
        if depth < 0:
            return False
    return depth == 0


def quoted(text: str) -> str:
    """Return a formula as plain words."""
    return '"' + text.replace("\\", "").replace('"', "") + '"'
