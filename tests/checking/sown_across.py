"""Faults for the rules across entries: for each rule a small change to the clean vocabulary that breaks just it.

Every function gets the sower and an entry drawn by the seed, and gives faults or nothing where the entry does not lend itself.
"""

import random
import re

from sown import PER_RULE, Fault, whole

RULES = {}


def breaks(rule, kind):
    """Registers what breaks a rule, on entries of that class."""

    def register(function):
        RULES[rule] = (kind, function)
        return function

    return register


def faults(sower, seed=7):
    """Up to PER_RULE faults for every rule of the table."""
    found = {}
    for rule, (kind, function) in RULES.items():
        chance = random.Random(f"{seed} {rule}")
        targets = sorted(set(sower.by_class["https://w3id.org/margent/ns#" + kind]))
        mine = []
        for iri in chance.sample(targets, len(targets)):
            at = At(sower, iri, rule, chance)
            fault = function(at)
            if fault is not None:
                mine.append(fault)
            if len(mine) == PER_RULE:
                break
        found[rule] = mine
    return found


class At:
    """One entry to sow a fault in."""

    def __init__(self, sower, iri, rule, chance, used=None):
        self.sower, self.iri, self.rule, self.chance = sower, iri, rule, chance
        self.used = [iri] if used is None else used  # shared by all that the fault has to do with
        self.file = sower.of[iri]
        self.block = self.file.blocks[iri]

    def __getitem__(self, name):
        return list(self.block.values(name))

    def other(self, written):
        """The entry that a value names; None where it stands nowhere."""
        iri = whole(written, self.file.base)
        if iri not in self.sower.of:
            return None
        self.used.append(iri)
        return At(self.sower, iri, self.rule, self.chance, self.used)

    def some(self, kind, fits=lambda _at: True):
        """Another entry of the class, drawn by the seed, that fits."""
        iris = self.sower.by_class["https://w3id.org/margent/ns#" + kind]
        for iri in self.chance.sample(iris, len(iris)):
            if iri != self.iri and fits(at := At(self.sower, iri, self.rule, self.chance, [])):
                self.used.append(iri)
                at.used = self.used
                return at
        return None

    def ref(self):
        """The entry as any file may name it."""
        return f"<{self.iri}>"

    def year(self, name):
        """The year of a date that is only a year."""
        match = re.fullmatch(r'"(\d{4})"\^\^edtf:EDTF', next(iter(self[name]), ""))
        return int(match[1]) if match else None

    def fault(self, name, values, index=-1, also=(), **more):
        """The property gets those values, and one of them is told."""
        values = list(values)
        files = tuple(other.file for other, _, _ in also)
        changed = tuple((other.block, prop, list(new)) for other, prop, new in also)
        return Fault(
            self.rule,
            self.file,
            self.iri,
            name,
            values,
            index % len(values) if values else 0,
            also=changed,
            file_of_also=files,
            others=self.used,
            **more,
        )

    def at_subject(self, also=(), **more):
        """The subject is told."""
        files = tuple(other.file for other, _, _ in also)
        changed = tuple((other.block, prop, list(new)) for other, prop, new in also)
        return Fault(
            self.rule, self.file, self.iri, None, None, also=changed, file_of_also=files, others=self.used, **more
        )

    def place(self, name, index=0):
        """Where something is told that is made elsewhere."""
        return (self.file, self.iri, name, index)


def date(text):
    return [f'"{text}"^^edtf:EDTF']


@breaks("X001", "Role")
def _(at):
    if at["skos:broader"] and (above := at.other(at["skos:broader"][0])) and at.iri != above.iri:
        return above.fault("skos:broader", [*above["skos:broader"], at.ref()])
    return None


@breaks("X002", "Role")
def _(at):
    return at.fault("skos:related", at["skos:broader"][:1]) if at["skos:broader"] else None


@breaks("X003", "Role")
def _(at):
    return at.fault("a", [*at["a"], "skos:Concept", "skosxl:Label"])


@breaks("X004", "Role")
def _(at):
    return at.at_subject(also=[(at, "skos:altLabel", at["skos:prefLabel"][:1])])


@breaks("X005", "Role")
def _(at):
    latin = at.some("Term", lambda term: term["skosxl:literalForm"][0].endswith("@la"))
    return at.fault("skosxl:prefLabel", [latin.ref()])


@breaks("X006", "Role")
def _(at):
    match = "<http://outside.example/match>"
    return at.fault("skos:exactMatch", [*at["skos:exactMatch"], match], also=[(at, "skos:relatedMatch", [match])])


@breaks("X007", "Role")
def _(at):
    other = at.some("Role", lambda role: role["skos:exactMatch"] and role.iri < at.iri)
    return at.fault("skos:exactMatch", [*at["skos:exactMatch"], other["skos:exactMatch"][0]]) if other else None


@breaks("X008", "Role")
def _(at):
    term = [at.some("Term").ref()]
    return at.fault("skosxl:altLabel", term, also=[(at, "skosxl:prefLabel", term)])


@breaks("X010", "Role")
def _(at):
    above = at.other(at["skos:broader"][0]) if at["skos:broader"] else None
    if above:
        return above.at_subject(also=[(above, "owl:deprecated", ["true"])], told=at.place("skos:broader"))
    return None


@breaks("X011", "Role")
def _(at):
    return at.fault("dcterms:isReplacedBy", [at.some("Role").ref()])


@breaks("X012", "Role")
def _(at):
    other = at.some("Role")
    also = [(at, "owl:deprecated", ["true"]), (other, "owl:deprecated", ["true"])]
    return at.fault("dcterms:isReplacedBy", [other.ref()], also=also)


@breaks("X020", "Term")
def _(at):
    alone = at["mg:sense"] and not at["mg:shortFor"] and not at["mg:inflectionOf"]
    return at.at_subject(emptied=("mg:sense",)) if alone else None


@breaks("X021", "Sense")
def _(at):
    role = at.other(at["mg:says"][0])
    if role and "mg:Role" in role["a"] and len(at["mg:says"]) == 1:
        return at.fault("mg:says", [*at["mg:says"], at.some("NoticeKind").ref()])
    return None


@breaks("X022", "Term")
def _(at):
    senses = [at.other(sense) for sense in at["mg:sense"]]
    plain = at["mg:namePosition"] and not at["mg:shortFor"] and not at["mg:inflectionOf"]
    role = any((said := sense.other(sense["mg:says"][0])) and "mg:Role" in said["a"] for sense in senses if sense)
    if plain and role and not any(sense["mg:namePosition"] for sense in senses):
        return at.at_subject(emptied=("mg:namePosition",))
    return None


CONDITIONS = (
    "says alone besideRole sameNameRole technique during sheetPlace namePosition nameKind placeNear onMap inPencil of"
)


@breaks("X023", "Term")
def _(at):
    if len(at["mg:sense"]) > 1:
        one, other = (at.other(sense) for sense in sorted(at["mg:sense"])[:2])
        names = [f"mg:{name}" for name in CONDITIONS.split()]
        return other.at_subject(also=[(other, name, one[name]) for name in names])
    return None


@breaks("X024", "Maker")
def _(at):
    if len(at["mg:nameForm"]) > 1:
        part = at.other(at["mg:nameForm"][-1])
        return at.fault("mg:nameForm", at["mg:nameForm"][:-1], told=part.place(None))
    return None


@breaks("X025", "Maker")
def _(at):
    other = at.some("Maker", lambda maker: bool(maker["mg:nameForm"]))
    part = other.other(other["mg:nameForm"][0])
    return at.fault("mg:nameForm", [*at["mg:nameForm"], part.ref()], told=part.place(None))


@breaks("X030", "Source")
def _(at):
    cited = [
        iri
        for iri in at.sower.by_class["https://w3id.org/margent/ns#Citation"]
        if whole(At(at.sower, iri, "", None)["mg:work"][0], at.sower.of[iri].base) == at.iri
    ]
    if len(cited) == 1:
        citation = At(at.sower, cited[0], at.rule, at.chance)
        return at.at_subject(also=[(citation, "mg:work", [at.some("Source").ref()])])
    return None


@breaks("X040", "Term")
def _(at):
    return at.fault("mg:shortForm", [*at["mg:shortForm"], at["skosxl:literalForm"][0]])


@breaks("X041", "Term")
def _(at):
    return at.fault("mg:variantForm", [*at["mg:variantForm"], at["mg:shortForm"][0]]) if at["mg:shortForm"] else None


@breaks("X042", "Term")
def _(at):
    tag = at["skosxl:literalForm"][0].rpartition("@")[2]
    return at.fault("mg:shortenedTo", [f'"zz"@{tag}'])


@breaks("X043", "Term")
def _(at):
    tag = "it" if at["skosxl:literalForm"][0].endswith("@la") else "la"
    return at.fault("mg:variantForm", [*at["mg:variantForm"], f'"qzxq"@{tag}'])


@breaks("X044", "PlaceForm")
def _(at):
    tag = "it" if at["mg:literal"][0].endswith("@la") else "la"
    return at.fault("mg:shortForm", [*at["mg:shortForm"], f'"qzxq"@{tag}'])


@breaks("X045", "Place")
def _(at):
    if len(at["mg:form"]) > 1:
        one, other = sorted((at.other(form) for form in at["mg:form"][:2]), key=lambda each: each.iri)
        return other.at_subject(also=[(other, "mg:literal", one["mg:literal"]), (other, "mg:case", one["mg:case"])])
    return None


@breaks("X046", "NameForm")
def _(at):
    text = at["mg:literal"][0].rpartition("@")[0]
    return at.fault("mg:case", ["mg:genitive"], also=[(at, "mg:literal", [f"{text}@fr"])])


@breaks("X047", "Term")
def _(at):
    text, _, tag = at["skosxl:literalForm"][0].rpartition("@")
    alike = f"{text[:2]}\u0301{text[2:]}@{tag}"  # an accent on the first letter
    fits = text[1:2].isalpha() and not at["mg:variantForm"] and not at["mg:shortForm"]
    return at.fault("mg:variantForm", [alike]) if fits else None


@breaks("X050", "Forename")
def _(at):
    other = at.some("Forename")
    return other.at_subject(rename=other.block.subject[:10] + at.block.subject[10:].capitalize(), told=at.place(None))


@breaks("X051", "Maker")
def _(at):
    return at.fault("mg:comparedWith", [*at["mg:comparedWith"], at.ref()])


@breaks("X052", "Term")
def _(at):
    tag = at["skosxl:literalForm"][0].rpartition("@")[2]
    other = at.some("Term", lambda term: not term["skosxl:literalForm"][0].endswith(f"@{tag}"))
    return at.fault("mg:homographOf", [other.ref()])


@breaks("X053", "Person")
def _(at):
    other = at.some("Person")
    return at.fault("mg:pupilOf", [*at["mg:pupilOf"], other.ref()], also=[(other, "mg:pupilOf", [at.ref()])])


def shared(name, kind, fits=lambda _at, _other: True):
    """What breaks a rule by taking over a value of another entry, earlier in the order of IRIs."""

    def change(at):
        other = at.some(
            kind, lambda each: each[name] and each.iri < at.iri and fits(at, each) and each[name] != at[name]
        )
        return at.fault(name, [*at[name][1:], other[name][0]]) if other and at[name] else None

    return change


RULES["X060"] = ("Qualifier", shared("mg:rank", "Qualifier", lambda at, other: at["mg:axis"] == other["mg:axis"]))
RULES["X061"] = ("Qualifier", shared("mg:phrase", "Qualifier"))
RULES["X062"] = ("Stage", shared("mg:order", "Stage"))
RULES["X081"] = ("Setting", shared("mg:key", "Setting"))
RULES["Y008"] = (
    "Term",
    shared(
        "skosxl:literalForm",
        "Term",
        lambda at, other: at["skosxl:literalForm"][0][-3:] == other["skosxl:literalForm"][0][-3:],
    ),
)


@breaks("X063", "Role")
def _(at):
    other = at.some("Role", lambda role: role.iri < at.iri)
    if other:
        english = [each for each in other["skos:prefLabel"] if each.endswith("@en")]
        return at.fault(
            "skos:prefLabel", [*(each for each in at["skos:prefLabel"] if not each.endswith("@en")), *english]
        )
    return None


@breaks("X070", "Person")
def _(at):
    return at.fault("mg:memberOf", [*at["mg:memberOf"], at.some("Person").ref()])


@breaks("X071", "Person")
def _(at):
    if len(at["mg:kin"]) > 1:
        one, other = (at.other(kin) for kin in at["mg:kin"][:2])
        return other.fault("mg:relation", ["mg:aunt"], also=[(one, "mg:relation", ["mg:brother"])])
    return None


@breaks("X072", "Person")
def _(at):
    for kin in map(at.other, at["mg:kin"]):
        other = kin.other(kin["mg:to"][0])
        for back in map(other.other, other["mg:kin"]):
            if whole(back["mg:to"][0], back.file.base) == at.iri:
                return kin.fault("mg:relation", ["mg:mother"], also=[(back, "mg:relation", ["mg:mother"])])
    return None


@breaks("X073", "Person")
def _(at):
    for kin in map(at.other, at["mg:kin"]):
        other = kin.other(kin["mg:to"][0])
        if at.year("mg:born") and other.year("mg:born"):
            younger = date(other.year("mg:born") + 5)
            return kin.fault("mg:relation", ["mg:father"], also=[(at, "mg:born", younger)])
    return None


@breaks("X080", "LabelScore")
def _(at):
    return at.fault("mg:bondName", ['"no-such-bond"'])


def dated(name, text):
    """What breaks a rule by another date, on a maker who was born or died in a known year."""

    def change(at):
        return at.fault(name, date(text)) if at.year("mg:born") and at.year("mg:died") and at[name] else None

    return change


RULES["X090"] = ("Person", dated("mg:active", "1301/1850"))
RULES["X091"] = ("Person", dated("mg:active", "1900/2020"))
RULES["X092"] = ("Person", dated("mg:died", "1301"))


@breaks("X093", "Person")
def _(at):
    form = at.other(at["mg:nameForm"][0]) if at["mg:nameForm"] else None
    seen = form and form["mg:attestation"] and form.other(form["mg:attestation"][0])
    if at.year("mg:born") and seen and seen["mg:date"]:
        return seen.fault("mg:date", date("1301"))
    return None


@breaks("X094", "Person")
def _(at):
    place = at.other(at["mg:workingPlace"][0]) if at["mg:workingPlace"] else None
    if at.year("mg:died") and place and place["mg:period"]:
        return place.fault("mg:period", date("2001/2010"))
    return None


def of_the_dead(name):
    """What breaks a rule by naming somebody who had died before."""

    def change(at):
        dead = at.some(
            "Person", lambda each: at.year("mg:born") and (each.year("mg:died") or 9999) < at.year("mg:born") - 5
        )
        return at.fault(name, [*at[name], dead.ref()]) if dead else None

    return change


RULES["X095"] = ("Person", of_the_dead("mg:partnerOf"))
RULES["X096"] = ("Person", of_the_dead("mg:pupilOf"))


@breaks("X097", "Person")
def _(at):
    dead = at.some(
        "Person", lambda each: at.year("mg:born") and (each.year("mg:died") or 9999) < at.year("mg:born") - 5
    )
    if at["mg:kin"] and dead:
        kin = at.other(at["mg:kin"][0])
        return kin.fault("mg:relation", ["mg:husband"], also=[(kin, "mg:to", [dead.ref()])])
    return None


@breaks("X098", "Term")
def _(at):
    citation = at.other(at["mg:citation"][0]) if at["mg:citation"] else None
    work = citation and citation.other(citation["mg:work"][0])
    return at.fault("mg:period", date("2101/..")) if work and work.year("dcterms:issued") and at["mg:period"] else None


@breaks("X099", "Mark")
def _(at):
    maker = at.other(at["mg:standsFor"][0]) if at["mg:standsFor"] else None
    return at.fault("mg:period", date("1301/1310")) if maker and maker.year("mg:born") and at["mg:period"] else None


@breaks("X100", "Person")
def _(at):
    dated = lambda each: each.year("mg:born") and each.year("mg:died") and each.iri < at.iri  # noqa: E731
    other = at.some("Person", lambda each: dated(each) and not each["mg:kin"])
    if other and not at["mg:kin"]:
        also = [(at, name, other[name]) for name in ("mg:born", "mg:died", "mg:active")]
        return at.fault("skos:prefLabel", other["skos:prefLabel"], also=also)
    return None


@breaks("Y002", "Term")
def _(at):
    return at.fault("mg:noSuchWord", ['"x"'])


@breaks("Y003", "Place")
def _(at):
    return at.fault("rdfs:seeAlso", ["[]"])


@breaks("Y004", "Role")
def _(at):
    return at.fault("rdfs:seeAlso", [f"<{at.file.base}role/nobody>"])


@breaks("Y005", "Forename")
def _(at):
    other = at.some("Forename", lambda each: each.file is not at.file)
    return at.at_subject(rename=other.block.subject)


@breaks("Y006", "Place")
def _(at):
    return at.fault("a", ["owl:Thing"])


@breaks("Y007", "Term")
def _(at):
    tag = at["skosxl:literalForm"][0].rpartition("@")[2]
    return at.at_subject(rename=f"<term/{tag}-{at.chance.randrange(10**9)}>")


@breaks("Y009", "Place")
def _(at):
    return at.at_subject(rename="<http://outside.example/" + at.block.subject[1:])


@breaks("Y010", "Attestation")
def _(at):
    other = at.some("Maker", lambda each: each.file is not at.file)
    return (
        at.at_subject(rename=f"{other.block.subject[:-1]}#q{at.chance.randrange(10**9)}>")
        if at.block.subject.startswith("<maker/")
        else None
    )


@breaks("Y011", "Maker")
def _(at):
    return at.fault("mg:active", date("1700/1600")) if at["mg:active"] else None


@breaks("Y012", "Forename")
def _(at):
    before = sorted(at.file.blocks, key=list(at.file.blocks).index)[: list(at.file.blocks).index(at.iri)]
    return at.at_subject(rename=at.file.blocks[at.chance.choice(before)].subject) if before else None


@breaks("Y014", "Maker")
def _(at):
    character = at.chance.choice(["\u200b", "\u202e", "\ufeff", "\\u0007", "\\u2066"])  # as it is, or as an escape
    label = at["skos:prefLabel"]
    return at.fault("skos:prefLabel", [f'"{character}{label[0][1:]}', *label[1:]], 0)
