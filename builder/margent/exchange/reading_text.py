"""A reading as text for the eye: one statement a line, reasons beneath."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

LEAST_SHARE = 0.01
"""Makers are shown from this share on."""


def reading_text(reading: Mapping[str, Any], why: bool = False) -> str:
    """The statements, notices, places and dates of a reading, aligned; with `why`, the reasons of each statement."""
    out: list[str] = []
    statements = reading["statements"]
    width = max((len(each["name"]) for each in statements), default=0)
    roles = [_roles(each) for each in statements]
    role_width = max((len(each) for each in roles), default=0)
    for each, role in zip(statements, roles, strict=True):
        term = f"“{each['term']}”" if each["term"] else "no term"
        doubt = "  doubtful" if each["doubtful"] else ""
        out.append(
            f"  {each['name']:<{width}}  {role:<{role_width}}  {term}  {round(each['confidence'] * 100)} %{doubt}"
        )
        out.extend(_makers(each, why))
        if why:
            out.extend(f"      {reason}" for reason in each["because"])
            out.extend(
                f"      else: {', '.join(other['roles'])} ({round(other['share'] * 100)} %)"
                for other in each["instead"]
            )
    out.extend(f"  {notice['kind']}: {notice['text']}" for notice in reading["notices"])
    out.extend(f"  place: {place['text']} ({place['place'].rsplit('/', 1)[-1]})" for place in reading["places"])
    out.extend(f"  date: {date['text']}" + (f" ({date['edtf']})" if date["edtf"] else "") for date in reading["dates"])
    out.extend(f"  unread: {rest['text']}" for rest in reading["unread"])
    if not out:
        out.append("  nothing to read")
    return "\n".join(out) + "\n"


def _makers(statement: Mapping[str, Any], why: bool) -> list[str]:
    """A line for each maker who may well be meant; with `why`, its reasons beneath; nothing where no makers were asked."""
    out: list[str] = []
    candidates = [each for each in statement["candidates"] if each["probability"] >= LEAST_SHARE]
    for each in candidates:
        out.append(f"      {round(each['probability'] * 100):3} %  {each['label']}  <{each['maker']}>")
        if why:
            out.extend(f"             {reason}" for reason in each["because"])
    if candidates and statement["unknown"] >= LEAST_SHARE:
        out.append(f"      {round(statement['unknown'] * 100):3} %  somebody who is not in the file")
    return out


def _roles(statement: Mapping[str, Any]) -> str:
    said = ", ".join(statement["roles"])
    return said + (f" (also {', '.join(statement['implied'])})" if statement["implied"] else "")
