"""The templates of the site, with the filters and the language that a page is written in."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from margent.publishing import wording
from margent.publishing.evidence import standing
from margent.publishing.handlist import pdf_maker
from margent.publishing.material import Material, Page
from margent.publishing.pages import followable
from margent.publishing.schema_org import structured
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Edtf, Iri, Text

LABEL_LANGUAGES = ("en", "fr", "it", "de", "nl", "es", "la")


class Templates:
    """Writes pages as text."""

    def __init__(self, source: Path, material: Material, tongues: Iterable[Tongue]) -> None:
        self._tongues = tuple(tongues)
        self._material = material
        self._address = material.address
        self._environment = Environment(
            loader=FileSystemLoader([source / "templates", source]),
            extensions=["jinja2.ext.i18n"],
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
        )
        self._environment.policies["ext.i18n.trimmed"] = True
        # One environment serves all languages, so that templates are compiled once: the language comes with each page.
        self._environment.install_gettext_callables(_gettext, _ngettext, newstyle=True)  # type: ignore[attr-defined]
        pages = material.pages

        def name(context: Context, iri: Iri) -> Text:
            return pages.name(iri, _tongue(context))

        def label(context: Context, iri: Iri) -> str:
            return pages.name(iri, _tongue(context)).value

        self._environment.filters |= {
            "path": pages.path,
            "drawing": lambda mark: material.drawings[mark.iri].path if mark.iri in material.drawings else "",
            "name": pass_context(name),
            "label": pass_context(label),
            "followable": followable,
            "standing": standing,
            "only": lambda texts, tag: next((text for text in texts if text.lang == tag), None),
            **_IN_THE_LANGUAGE,
        }
        self._environment.globals |= {
            "vocabulary": material.vocabulary,
            "publication": material.vocabulary.publication,
            "wording": wording,
            "site_address": material.address,
            "site_languages": material.languages,
            "label_languages": LABEL_LANGUAGES,
            "pdf_made": pdf_maker() is not None,
            "more_pages": {page.path for page in material.more},
        }

    def written(self, page: Page, tongue: Tongue) -> str:
        """The page in that language. `top` leads to the top of the site, `root` to the folder of the language."""
        depth = page.path.count("/")
        return self._environment.get_template(page.template).render(
            top="../" * (depth + bool(tongue.folder)),
            address=self._address and f"{self._address}{tongue.folder}{page.path}",
            structured=self._structured(page, tongue),
            data_path=page.path.removesuffix(".html") if page.entry else "",
            root="../" * depth,
            here=page.path,
            tongue=tongue,
            tongues=self._tongues,
            **page.told(tongue),
        )

    def _structured(self, page: Page, tongue: Tongue) -> Markup:
        """The entry of the page for programs that know schema.org."""
        entry = self._material.entry(page.entry) if page.entry else None
        if entry is None:
            return Markup()
        address = self._address and f"{self._address}{tongue.folder}{page.path}"
        return Markup(structured(entry, self._material.vocabulary, tongue, address))  # noqa: S704 - nothing in it can end the element


def _tongue(context: Context) -> Tongue:
    tongue: Tongue = context["tongue"]
    return tongue


@pass_context
def _gettext(context: Context, message: str) -> str:
    return _tongue(context).say(message)


@pass_context
def _ngettext(context: Context, singular: str, plural: str, number: int) -> str:
    return _tongue(context).ngettext(singular, plural, number)


@pass_context
def _best(context: Context, texts: Iterable[Text]) -> Text | None:
    return _tongue(context).best(texts)


@pass_context
def _plain(context: Context, texts: Iterable[Text]) -> str:
    text = _tongue(context).best(texts)
    return text.value if text else ""


@pass_context
def _language(context: Context, tag: str) -> str:
    return _tongue(context).language_name(tag)


@pass_context
def _years(context: Context, period: Edtf) -> str:
    return _tongue(context).years(period)


@pass_context
def _size(context: Context, size: int) -> str:
    return _tongue(context).size(size)


@pass_context
def _number(context: Context, number: int) -> str:
    return _tongue(context).number(number)


@pass_context
def _worded(context: Context, choice: str) -> str:
    return _tongue(context).worded(choice)


_IN_THE_LANGUAGE: dict[str, Any] = {
    "best": _best,
    "plain": _plain,
    "language": _language,
    "years": _years,
    "size": _size,
    "number": _number,
    "worded": _worded,
}
