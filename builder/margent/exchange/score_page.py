"""The report of a score as one page: no script, nothing fetched, every plot's figures in a table as well."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from margent.exchange.plots import reliability_square, role_bars
from margent.exchange.score_report import Judged, Report, misses_data

PAGE = """\
<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>How the letterings of {{ judged }} are read</title>
<style>
:root { color-scheme: light dark; --ink: #1d2327; --paper: #fbfaf6; --rule: #b9b3a3; --fill: #2b5d63; --pale: #d8d2c0; }
@media (prefers-color-scheme: dark) { :root { --ink: #e9e5da; --paper: #16191b; --rule: #5d594e; --fill: #7fb6bb; --pale: #3a3a35; } }
body { margin: 2rem auto; max-width: 46rem; padding: 0 1rem; font: 1rem/1.5 Georgia, "Times New Roman", serif; color: var(--ink); background: var(--paper); }
h1, h2 { font-weight: normal; line-height: 1.2; }
h2 { margin-top: 2.5rem; border-top: 1px solid var(--rule); padding-top: .75rem; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-style: italic; padding-bottom: .25rem; }
th, td { text-align: right; padding: .1rem .9rem .1rem 0; vertical-align: top; font-weight: normal; }
th[scope=row], th.first { text-align: left; }
thead th { border-bottom: 1px solid var(--rule); }
.wide { overflow-x: auto; }
svg { max-width: 100%; height: auto; font: 13px Georgia, serif; fill: var(--ink); display: block; margin: .5rem 0 1rem; }
svg.square { max-width: 24rem; }
svg .name { text-anchor: end; } svg .under { text-anchor: middle; }
svg .judged { fill: var(--pale); } svg .found { fill: var(--fill); } svg .ground { fill: none; stroke: var(--rule); }
svg .ideal { stroke: var(--rule); stroke-dasharray: 4 4; } svg .line { fill: none; stroke: var(--fill); stroke-width: 1.5; }
li { margin-bottom: .6rem; } li p { margin: 0; } .what { font-size: .9rem; }
</style>
</head>
<body>
<main>
<h1>How the letterings of {{ judged }} are read</h1>
<p>{{ report.all.letterings }} letterings, read with the vocabulary {{ vocabulary }}.
A pair is a name and a role.
Names agree closely when one contains the other and has at least three fifths of its length, strictly when their letters are the same.
In brackets stands the 95&nbsp;% interval over resampled letterings.</p>

{% macro groups(title, rows) %}
<div class="wide"><table>
<caption>{{ title }}</caption>
<thead><tr><th class="first" scope="col">letterings</th><th scope="col">number</th><th scope="col">precision</th><th scope="col">recall</th><th scope="col">close F1</th><th scope="col">strict F1</th><th scope="col">wholly right</th></tr></thead>
<tbody>
{% for each in rows %}<tr><th scope="row">{{ each.name }}</th><td>{{ each.letterings }}</td><td>{{ "%.3f"|format(each.close.precision) }}</td><td>{{ "%.3f"|format(each.close.recall) }}</td><td>{{ "%.3f [%.3f, %.3f]"|format(each.close.f1, *each.close.interval) }}</td><td>{{ "%.3f"|format(each.strict.f1) }}</td><td>{{ "%.3f"|format(each.whole) }}</td></tr>
{% endfor %}</tbody>
</table></div>
{% endmacro %}
{{ groups("All letterings", [report.all]) }}

<h2>Roles</h2>
{{ bars }}
<table>
<caption>Judged roles and how many were found, the name closely</caption>
<thead><tr><th class="first" scope="col">role</th><th scope="col">judged</th><th scope="col">found</th></tr></thead>
<tbody>
{% for each in report.roles %}<tr><th scope="row">{{ each.role }}</th><td>{{ each.judged }}</td><td>{{ each.found }}</td></tr>
{% endfor %}</tbody>
</table>

<h2>Roles taken for others</h2>
{% if confusions %}<table>
<caption>Where a name was found but its role was not, or where nothing was found</caption>
<thead><tr><th class="first" scope="col">judged</th><th class="first" scope="col">read</th><th scope="col">times</th></tr></thead>
<tbody>
{% for each in confusions %}<tr><th scope="row">{{ each.judged }}</th><th class="first">{{ each.read }}</th><td>{{ each.times }}</td></tr>
{% endfor %}</tbody>
</table>{% else %}<p>None.</p>{% endif %}

<h2>Languages</h2>
{{ groups("By the language that the record says", report.languages) }}

<h2>Periods</h2>
{{ groups("By the fifty years of the record's date", report.periods) }}

<h2>Confidence</h2>
<p>{{ report.statements }} statements, {{ "%.3f"|format(report.right) }} of them right.
The Brier score is {{ "%.3f"|format(report.brier) }}; to say {{ "%.2f"|format(report.right) }} of every statement would give {{ "%.3f"|format(report.right * (1 - report.right)) }}, and lower is better.
On the broken line confidence and being right are the same; below it the reader was too sure.</p>
{{ square }}
<table>
<caption>Statements by confidence</caption>
<thead><tr><th class="first" scope="col">confidence</th><th scope="col">statements</th><th scope="col">said on average</th><th scope="col">right</th></tr></thead>
<tbody>
{% for each in report.bins %}<tr><th scope="row">{{ "%.1f to %.1f"|format(each.low, each.high) }}</th><td>{{ each.statements }}</td><td>{{ "%.3f"|format(each.said) }}</td><td>{{ "%.3f"|format(each.right) }}</td></tr>
{% endfor %}</tbody>
</table>

<h2>Letterings not wholly right</h2>
{% if misses %}<ul>
{% for miss in misses %}<li><p><b>{{ miss.id }}</b> {{ miss.lettering }}</p>
{% for each in miss.missed %}<p class="what">missed: {{ each.name }}, {{ each.roles|join(" or ") }}</p>
{% endfor %}{% for each in miss.added %}<p class="what">added: {{ each.name }}, {{ each.role }}</p>
{% endfor %}</li>
{% endfor %}</ul>{% else %}<p>None.</p>{% endif %}
</main>
</body>
</html>
"""


def score_page(judged: str, vocabulary: str, report: Report, pairs: Sequence[Judged]) -> str:
    """The page; `judged` names the file that was compared with, `vocabulary` is the version read with."""
    from jinja2 import Environment
    from markupsafe import Markup

    given: dict[str, Any] = {
        "judged": judged,
        "vocabulary": vocabulary,
        "report": report,
        "confusions": [each for each in report.confusions if not each.right],
        "misses": misses_data(report, pairs),
        "bars": Markup(role_bars(report.roles)),  # noqa: S704 - every text in the drawing is escaped where it is made
        "square": Markup(reliability_square(report.bins)),  # noqa: S704 - the same
    }
    return Environment(autoescape=True, trim_blocks=True).from_string(PAGE).render(given)
