"""Faults sown into the clean vocabulary and the invented makers, each with the line and the rule by which it must be found.

The files are in the tidy form, one value a line, so that a file can be taken apart into blocks and put together again with a
fault in it, and the line of the fault is known without asking what is being tested. For a shape the fault follows from its
constraint component, whatever the shape: a value too many, one too few, of another kind, in another language. For rules across
entries there is a table of small changes, one for each rule.
"""

import random
import re
from collections import defaultdict
from dataclasses import dataclass, field

from margent.checking.components import SH
from margent.checking.graph import Graph
from margent.checking.kept import NOTHING
from margent.checking.material import Folder, Material, read, source
from margent.checking.queries import asked_keys
from margent.checking.shapes import SHAPES, shapes_of
from margent.checking.statements import statements
from margent.vocabulary.namespaces import MG, PREFIXES, RDF, TYPE, expand, shorten

PER_RULE = 5
PREFIX_LINES = [f"@prefix {prefix}: <{namespace}> ." for prefix, namespace in PREFIXES.items()]
SUBCLASS = expand("rdfs:subClassOf")


@dataclass
class Block:
    """One subject with its properties, each with its values as they are written."""

    subject: str
    properties: list = field(default_factory=list)  # of [property, values]

    def values(self, name):
        return next((values for prop, values in self.properties if prop == name), [])

    def put(self, name, values):
        """Nothing comes back: the property has those values, or is gone where there are none."""
        self.properties = [each for each in self.properties if each[0] != name or values]
        for each in self.properties:
            if each[0] == name:
                each[1] = values
                return
        if values:
            self.properties.append([name, values])


@dataclass
class File:
    """A tidy file taken apart."""

    path: object
    base: str
    head: list
    blocks: dict  # by whole IRI
    between: dict  # the empty lines before a block

    def text(self):
        """The text, and the line of each subject and of each value of each property."""
        lines = list(self.head)
        where = {}
        for iri, block in self.blocks.items():
            lines += [""] * self.between[iri]
            where[iri] = len(lines) + 1
            for number, (name, values) in enumerate(block.properties):
                last = number == len(block.properties) - 1
                for index, value in enumerate(values):
                    begin = f"{block.subject} " if number == index == 0 else "    " if index == 0 else "        "
                    name_here = f"{name} " if index == 0 else ""
                    end = "," if index < len(values) - 1 else " ." if last else " ;"
                    lines.append(f"{begin}{name_here}{value}{end}")
                    where[iri, name, index] = len(lines)
        return "\n".join(lines) + "\n", where


def taken_apart(path):
    """The file of that path in blocks."""
    lines = path.read_text("utf-8").splitlines()
    base = next((match[1] for line in lines if (match := re.match(r"@base <(.*)> \.", line))), "")
    head, blocks, between = [], {}, {}
    block, empty, name = None, 0, ""
    for line in lines:
        if not line:
            empty += 1
        elif line[0] in "@#" and block is None:
            head += [""] * empty + [line]
            empty = 0
        else:
            if line[0] != " ":
                subject, _, line = line.partition(" ")  # noqa: PLW2901
                block = Block(subject)
                iri = base + subject[1:-1] if subject[0] == "<" and "://" not in subject else whole(subject, base)
                blocks[iri], between[iri], empty = block, empty, 0
                line = f"    {line}"  # noqa: PLW2901
            if not line.startswith("        "):
                name, _, line = line.strip().partition(" ")  # noqa: PLW2901
                block.properties.append([name, []])
            block.properties[-1][1].append(re.sub(r"( [;.]|,)$", "", line.strip()))
    return File(path, base, head, blocks, between)


def whole(written, base):
    """The IRI that is written so."""
    if written == "a":
        return TYPE
    if written[0] == "<":
        return written[1:-1] if "://" in written else base + written[1:-1]
    prefix, _, name = written.partition(":")
    return PREFIXES[prefix] + name


def entry_of(iri):
    """The entry that the subject is, or is a part of. Of the ontology every word is one."""
    return iri if iri.startswith(MG) else iri.partition("#")[0]


@dataclass
class Fault:
    """One fault to sow: where, what is done to the block, and which line must be told (of the subject, or of a value)."""

    rule: str
    file: File
    iri: str
    name: str | None  # of the property, as written; None: the line of the subject
    values: list | None  # the new values of that property, or of `emptied`
    index: int | None = 0  # of the value to be told
    emptied: tuple = ()
    rename: str | None = None
    kind: str = ""
    also: tuple = ()  # (block, property, values, new subject or None): what else is changed, to make the fault whole
    file_of_also: tuple = ()
    others: tuple = ()  # the IRIs of what else is changed
    told: tuple | None = None  # (file, IRI, property, index) where the fault is told elsewhere than where it is made

    def sow(self):
        """Nothing comes back: the block is changed."""
        block = self.file.blocks[self.iri]
        for other, name, values in self.also:
            other.put(name, values)
        for name in self.emptied:
            block.put(name, [])
        if self.name is not None and self.values is not None:
            block.put(self.name, self.values)
        if self.rename is not None:
            block.subject = self.rename

    @property
    def files(self):
        """All files that are changed or told of."""
        return [self.file, *self.file_of_also, *([self.told[0]] if self.told else [])]

    @property
    def entries(self):
        """The entries that must be let alone by every other fault of a batch."""
        return {entry_of(iri) for iri in (self.iri, *self.others, *(self.told[1:2] if self.told else ()))}

    @property
    def place(self):
        """File, IRI, property and index of what must be told."""
        return self.told or (self.file, self.iri, self.name, self.index)

    def line(self, where):
        """The line that must be told, given those of its file."""
        _, iri, name, index = self.place
        return where[iri] if name is None else where[iri, name, index]


class Sower:
    """All faults that the constraints of the shapes suggest, on the entries of some folders."""

    def __init__(self, root, folders):
        self.shapes = shapes_of(root / "shapes")
        self.said = self.shapes._said
        self.asked = asked_keys(root / "shapes" / "rules")
        self.folders = [read(folder, self.asked, NOTHING)[0] for folder in folders]
        self.material = Material(tuple(self.folders))
        triples = [triple for each in self.material.files for triple in each.turtle().triples]
        self.graph = Graph(statements(triples), {}, self.material.above)
        self.files = [taken_apart(each.path) for each in self.material.files]
        self.of = {iri: file for file in self.files for iri in file.blocks}
        self.entries = sorted(iri for iri in self.of if "#" not in iri and "/ns" not in iri)
        self.by_class = defaultdict(list)
        self.by_property = defaultdict(list)
        for iri in sorted(self.of):
            for kind in self.graph.classes(iri):
                self.by_class[kind].append(iri)
            for name in self.graph.subjects.get(iri, {}):
                self.by_property[name].append(iri)

    def faults(self, seed=7):
        """Up to PER_RULE faults for every rule of a shape, on entries drawn by the seed."""
        found = {}
        for rule in self.shapes.rules:
            chance = random.Random(f"{seed} {rule.id}")
            mine = []
            targets = self._targets(SHAPES + rule.id)
            for iri in chance.sample(targets, min(len(targets), 400)):
                mine += self._of_shape(rule.id, iri, chance)
                if len(mine) >= 8 * PER_RULE:
                    break
            found[rule.id] = self._spread(mine)
        return found

    def _spread(self, faults):
        """So many of them, of each kind of fault in turn and each on an entry of its own."""
        kinds = defaultdict(list)
        for fault in faults:
            kinds[fault.kind].append(fault)
        chosen, used = [], set()
        while any(kinds.values()) and len(chosen) < PER_RULE:
            for waiting in kinds.values():
                while waiting:
                    fault = waiting.pop(0)
                    if (entry := entry_of(fault.iri)) not in used:
                        used.add(entry)
                        chosen.append(fault)
                        break
        return chosen[:PER_RULE]

    def _targets(self, shape):
        """The entries that the shape looks at."""
        found = []
        for name, table in ((f"{SH}targetClass", self.by_class), (f"{SH}targetSubjectsOf", self.by_property)):
            for target in self.said[shape].get(name, ()):
                found += table.get(target.value, [])
        for iri, said in self.said.items():
            if any(each.value == shape for each in said.get(f"{SH}property", ())):
                found += self._targets(iri)
        return sorted(set(found))

    def _of_shape(self, rule, iri, chance):
        """What can be done to the entry so that it breaks the rule."""
        said = self.said[SHAPES + rule]
        file = self.of[iri]
        paths = self.shapes._compiled[SHAPES + rule].path
        for name, values in said.items():
            component = name.removeprefix(SH)
            for value in values:
                if not paths:
                    yield from self._of_node(rule, iri, file, component, value)
                elif len(paths) > 1:
                    if component == "minCount":
                        yield Fault(
                            rule, file, iri, None, None, emptied=tuple(map(self._written, paths)), kind=component
                        )
                else:
                    yield from self._of_value(rule, iri, file, paths[0], component, value, said, chance)

    def _written(self, name):
        return "a" if name == TYPE else shorten(name)

    def _of_node(self, rule, iri, file, component, value):
        if component == "closed":
            yield Fault(rule, file, iri, "dcterms:abstract", ['"a word"'], kind=component)
        elif component == "pattern":
            subject = file.blocks[iri].subject
            yield Fault(rule, file, iri, None, None, rename=f"{subject[:-1]}!>", kind=component)
        elif component == "or" and rule == "M048" and file.blocks[iri].values("mg:seen") == ["true"]:
            yield Fault(rule, file, iri, None, None, kind=component, emptied=("mg:seen", "mg:citation", "mg:standing"))

    def _of_value(self, rule, iri, file, path, component, value, said, chance):
        """A fault for one constraint on the values of one property."""
        name = self._written(path)
        written = list(file.blocks[iri].values(name))
        if path == TYPE:
            if component == "in":
                more = [shorten(each.value) for each in self.shapes._list(value) if shorten(each.value) not in written]
                yield Fault(rule, file, iri, name, [*written, chance.choice(more)], kind=component)
            return

        def at(values, index=0):
            return Fault(rule, file, iri, name, values, index, kind=component)

        if component == "minCount" and written:
            yield Fault(rule, file, iri, None, None, emptied=(name,), kind=component)
        elif component == "maxCount":
            others = [
                each for other in self.by_property[path][:200] for each in self.of[other].blocks[other].values(name)
            ]
            more = sorted({self._here(each, file, chance) for each in others} - set(written))
            need = int(value.value) + 1 - len(written)
            if len(more) >= need > 0:
                yield at(written + chance.sample(more, need))
        elif component == "qualifiedMinCount" and written:
            (tag,) = self.shapes.of_values(said[f"{SH}qualifiedValueShape"][0].value).only_language
            rest = [each for each in written if not each.endswith(f"@{tag}")]
            if len(rest) < len(written):
                yield at(rest) if rest else Fault(rule, file, iri, None, None, emptied=(name,), kind=component)
        elif component == "uniqueLang":
            for index, each in enumerate(written):
                if match := re.fullmatch(r'"(.*)"@(\S+)', each):
                    # the last of the two in their order is told
                    yield at([*written[:index], each, f'"{match[1]} zzz"@{match[2]}', *written[index + 1 :]], index + 1)
        else:  # in place of a value, or where the vocabulary has none
            index = chance.randrange(len(written)) if written else 0
            one = written[index] if written else '"x"@la' if name == "mg:shortForm" else '"x"'
            for bad in self._bad(component, one, value, said, file, chance):
                if bad not in written:
                    yield at([*written[:index], bad, *written[index + 1 :]], index)

    def _here(self, each, file, chance):
        """A value of another file as it is written in this one: a text is made another one, an IRI whole."""
        if each[0] == "<" and "://" not in each:
            return each
        return re.sub(r'^"(.*)"', r'"\1 too"', each) if re.fullmatch(r'".*"(@\S+)?', each) else each

    def _bad(self, component, written, value, said, file, chance):
        """Values that break the constraint, in place of the one that is written."""
        text = match[1] if (match := re.match(r'"(.*)"', written)) else "x"
        if component == "datatype":
            wanted = value.value
            if wanted == f"{RDF}langString":
                yield f'"{text}"'
            elif wanted.endswith("#string"):
                yield f'"{text}"@en'
            else:
                yield '"perhaps"'
        elif component == "pattern":
            wanted = re.compile(value.value)
            for bad in (f'"{text}."', f'" {text}"', '""', '"perhaps"', f'"{text}  {text}"'):
                suffix = written[len(match[0]) :] if match else ""
                if not wanted.search(bad[1:-1]):
                    yield bad + suffix
        elif component == "in":
            yield '"elsewhere"' if written[0] == '"' else "mg:noSuchThing"
        elif component == "class":
            strange = [iri for iri in self.entries if value.value not in self.graph.classes(iri)]
            yield f"<{chance.choice(strange)}>"
        elif component == "or":
            classes = {
                each.value
                for shape in self.shapes._list(value)
                for each in self.said[shape.value].get(f"{SH}class", ())
            }
            strange = [iri for iri in self.entries if not classes & self.graph.classes(iri)]
            if classes:
                yield f"<{chance.choice(strange)}>"
        elif component == "nodeKind":
            yield '"a word"' if value.value == f"{SH}IRI" else "<http://outside.example/thing>"
        elif component == "languageIn":
            yield f'"{text}"@fi'
        elif component in {"minInclusive", "maxInclusive"}:
            yield "-9999999" if component == "minInclusive" else "9999999"
        elif component == "minLength":
            yield '""'


def batches(faults, size=300):
    """The faults in batches, in each of which every fault has an entry of its own."""
    waiting = list(faults)
    while waiting:
        batch, used, later = [], set(), []
        for fault in waiting:
            if len(batch) == size or not used.isdisjoint(fault.entries):
                later.append(fault)
            else:
                used |= fault.entries
                batch.append(fault)
        yield batch
        waiting = later


def written(batch):
    """The files that the faults of a batch touch, by path: the text with the faults in it, and the lines of what is in it."""
    touched = {id(file): file for fault in batch for file in fault.files}
    before = {
        iri: ([[name, list(values)] for name, values in block.properties], block.subject)
        for file in touched.values()
        for iri, block in file.blocks.items()
    }
    for fault in batch:
        fault.sow()
    heads = {file.path: file.head for file in touched.values()}
    for file in touched.values():
        file.head = [*file.head, *(line for line in PREFIX_LINES if line not in file.head)]
    texts = {file.path: file.text() for file in touched.values()}
    for file in touched.values():
        file.head = heads[file.path]
        for iri, block in file.blocks.items():
            block.properties, block.subject = before[iri]
    return texts


def sown(sower, batch):
    """The material with the faults in it: the files that are touched are checked, the others are beside. And where each is."""
    texts = written(batch)
    checked, beside = [], []
    for folder in sower.folders:
        # publication.ttl is always among them: it says what the base is
        here = {each.path for each in folder.files if each.path in texts or each.path.name == "publication.ttl"}
        new = {path: source(path, texts[path][0].encode(), sower.asked, NOTHING) for path in here if path in texts}
        checked.append(
            Folder(folder.path, tuple(new.get(each.path, each) for each in folder.files if each.path in here))
        )
        beside.append(Folder(folder.path, tuple(each for each in folder.files if each.path not in here)))
    places = {}
    for fault in batch:
        path = fault.place[0].path
        places[str(path), fault.line(texts[path][1]), fault.rule] = fault
    return Material(tuple(checked), tuple(beside)), places
