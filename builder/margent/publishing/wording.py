"""The site's words for the choices of the ontology, in English; `Tongue` says them in the language of a page."""

from __future__ import annotations

from margent.publishing.messages import N_

# In the order in which the site lists them: Latin first, as on prints.
LANGUAGES = {
    "la": N_("Latin"),
    "fr": N_("French"),
    "it": N_("Italian"),
    "de": N_("German"),
    "nl": N_("Dutch"),
    "en": N_("English"),
    "es": N_("Spanish"),
    "pt": N_("Portuguese"),
    "mul": N_("Signs of any language"),
}

WORKED_ON = {
    "model": N_("done on the model"),
    "drawing": N_("done on the drawing"),
    "plate": N_("done on the plate, block or stone"),
    "impression": N_("done on the impression"),
    "publication": N_("done for the publication"),
}

WHERE_THE_NAME_STANDS = {
    "nameBefore": N_("before it"),
    "nameAfter": N_("after it"),
    "nameEither": N_("before or after it"),
}

AXES = {
    "certainty": (N_("How sure"), N_("How sure the attribution is, the surest first.")),
    "nearness": (N_("How near"), N_("How near the unnamed hand stood to the named maker, the nearest first.")),
    "relation": (
        N_("From what model"),
        N_("How the print relates to a model by the named maker, the most direct first."),
    ),
}

STANDINGS = {"cited": N_("cited"), "commonPractice": N_("common practice"), "fromMemory": N_("from memory")}

FIGURES = (
    N_("Roles"),
    N_("Terms"),
    N_("Senses of terms"),
    N_("Kinds of notices"),
    N_("Qualifiers"),
    N_("Places"),
    N_("Forms of place names"),
    N_("Forenames"),
    N_("Sources"),
)
"""The rows of the tables of figures, as `evidence.py` names them."""

MAKER_KINDS = {
    "Person": N_("person"),
    "Family": N_("family"),
    "Workshop": N_("workshop"),
    "Firm": N_("firm"),
    "UnidentifiedHand": N_("hand known by its mark or manner"),
}

KINSHIP = {
    "aunt": N_("aunt of"),
    "brother": N_("brother of"),
    "brotherInLaw": N_("brother-in-law of"),
    "cousin": N_("cousin of"),
    "daughter": N_("daughter of"),
    "father": N_("father of"),
    "fatherInLaw": N_("father-in-law of"),
    "grandfather": N_("grandfather of"),
    "grandson": N_("grandson of"),
    "heir": N_("heir of"),
    "husband": N_("husband of"),
    "mother": N_("mother of"),
    "nephew": N_("nephew of"),
    "niece": N_("niece of"),
    "relative": N_("relative of"),
    "sister": N_("sister of"),
    "son": N_("son of"),
    "sonInLaw": N_("son-in-law of"),
    "stepson": N_("stepson of"),
    "uncle": N_("uncle of"),
    "widow": N_("widow of"),
    "wife": N_("wife of"),
}

CHOICES = {
    # kinds and classes of words
    "word": N_("word"),
    "abbreviation": N_("abbreviation"),
    "phrase": N_("phrase"),
    "siglum": N_("siglum"),
    "formula": N_("formula"),
    "verb": N_("verb"),
    "participle": N_("participle"),
    "noun": N_("noun"),
    "adjective": N_("adjective"),
    "preposition": N_("preposition"),
    # cases and genders
    "nominative": N_("nominative"),
    "genitive": N_("genitive"),
    "dative": N_("dative"),
    "accusative": N_("accusative"),
    "ablative": N_("ablative"),
    "locative": N_("locative"),
    "masculine": N_("masculine"),
    "feminine": N_("feminine"),
    # name forms
    "asSigned": N_("as signed"),
    "asListed": N_("as listed"),
    "latinised": N_("latinised"),
    "translated": N_("translated"),
    "abbreviated": N_("abbreviated"),
    "initials": N_("initials"),
    "byname": N_("byname"),
    "married": N_("married name"),
    "firmStyle": N_("firm style"),
    "misspelt": N_("misspelt"),
    # marks
    "makersMark": N_("maker’s mark"),
    "printersChop": N_("printer’s chop"),
    "publishersMark": N_("publisher’s mark"),
    "estateStamp": N_("estate stamp"),
    "collectorsMark": N_("collector’s mark"),
    "institutionStamp": N_("institution’s stamp"),
    "taxStamp": N_("tax stamp"),
    "paperMark": N_("paper mark"),
    # what a name names
    "firm": N_("firm"),
    "person": N_("person"),
    # techniques that a sense may ask for
    "aquatint": N_("aquatint"),
    "engraving": N_("engraving"),
    "etching": N_("etching"),
    "lithography": N_("lithography"),
    "mezzotint": N_("mezzotint"),
    "photomechanical": N_("photomechanical"),
    "stipple": N_("stipple"),
    "wood-engraving": N_("wood-engraving"),
    "woodcut": N_("woodcut"),
    # places on the sheet
    "in image": N_("in image"),
    "lower centre": N_("lower centre"),
    "lower left": N_("lower left"),
    "lower margin": N_("lower margin"),
    "lower right": N_("lower right"),
    "upper left": N_("upper left"),
    "upper margin": N_("upper margin"),
    "upper right": N_("upper right"),
    "verso": N_("verso"),
}
