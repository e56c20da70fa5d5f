"""Drawings of marks: plain shapes pass, everything that can act is refused by file and line."""

import pytest

from margent.faults import Fault
from margent.publishing.drawings import plain_shapes

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 120" fill="none" stroke="#222">\n'


def test_plain_shapes_pass_and_come_back_the_same(tmp_path):
    path = tmp_path / "mark.svg"
    path.write_text(HEAD + '<title>A &amp; B</title>\n<path d="M16 104L60 14"/>\n</svg>\n', encoding="utf-8")
    text = plain_shapes(path)
    assert '<path d="M16 104L60 14">' in text
    assert "A &amp; B" in text
    path.write_text(text, encoding="utf-8")
    assert plain_shapes(path) == text


@pytest.mark.parametrize(
    ("inside", "told"),
    [
        ("<script>alert(1)</script>", "<script>"),
        ("<style>path{fill:url(https://x.example)}</style>", "<style>"),
        ('<path d="M0 0" onload="alert(1)"/>', "the attribute onload"),
        ('<path d="M0 0" style="fill:red"/>', "the attribute style"),
        ('<a href="javascript:alert(1)"><path d="M0 0"/></a>', "<a>"),
        ('<image href="https://x.example/a.png"/>', "<image>"),
        ('<use href="#a"/>', "<use>"),
        ("<foreignObject/>", "<foreignObject>"),
        ('<path d="M0 0" fill="url(#a)"/>', "a value of fill"),
        ('<path d="M0 0" fill="&#106;avascript:x"/>', "a value of fill"),
        ("<animate/>", "<animate>"),
        ("<title><path/></title>", "<path>"),
        ("<svg/>", "<svg>"),
        ("<h:p xmlns:h='http://www.w3.org/1999/xhtml'/>", "<h:p>"),
        ("<?xml-stylesheet href='x'?>", "an instruction for programs"),
        ("words", "words between its shapes"),
    ],
)
def test_what_can_act_is_refused_with_its_line(tmp_path, inside, told):
    path = tmp_path / "mark.svg"
    path.write_text(f'{HEAD}<path d="M0 0"/>\n{inside}\n</svg>', encoding="utf-8")
    with pytest.raises(Fault) as fault:
        plain_shapes(path)
    assert str(fault.value).startswith(f"{path}:3: the drawing holds {told}")


@pytest.mark.parametrize(
    "text",
    [
        '<!DOCTYPE svg [<!ENTITY a "b">]>' + HEAD + "</svg>",
        '<!DOCTYPE svg SYSTEM "file:///etc/passwd">' + HEAD + "</svg>",
        HEAD,
        "",
        "<html/>",
    ],
)
def test_entities_and_what_is_no_drawing_are_refused(tmp_path, text):
    path = tmp_path / "mark.svg"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Fault, match=r"mark\.svg:\d+: "):
        plain_shapes(path)
