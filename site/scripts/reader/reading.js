// Answers to margent/lettering/reading.py: the result of reading one lettering. Names of fields are those of the JSON.

/** Version of the JSON. */
export const FORMAT = 1;

/** A term as it stands in the lettering; `span` is [start, end) in code points of that line. */
export class TermRead {
  constructor(text, line, span, roles) {
    Object.assign(this, { text, line, span, roles });
  }
}

/** A statement of responsibility: exactly one name, its roles, the evidence, the confidence. */
export class Statement {
  constructor({ name, line, span, roles, implied, terms, term, of, after, same_as, maker, members, unknown, candidates, confidence, doubtful, instead, because }) {
    Object.assign(this, { name, line, span, roles, implied, terms, term, of, after, same_as, maker, members, unknown, candidates, confidence, doubtful, instead, because });
  }
}

/** A privilege, permission, address, price and so on; nobody named in it is a maker. */
export class Notice {
  constructor(kind, text, line, span, granter = null, holder = null) {
    Object.assign(this, { kind, text, line, span, granter, holder });
  }
}

/** A town named in the lettering. */
export class PlaceRead {
  constructor(text, place, kind, line, span) {
    Object.assign(this, { text, place, kind, line, span });
  }
}

/** A date in the lettering, as EDTF where the year is told. */
export class DateRead {
  constructor(text, edtf, kind, line, span) {
    Object.assign(this, { text, edtf, kind, line, span });
  }
}

/** A stretch that the reader could not use. */
export class Unread {
  constructor(text, line, span) {
    Object.assign(this, { text, line, span });
  }
}

/** Everything read in one lettering. */
export class Reading {
  statements = [];
  notices = [];
  places = [];
  dates = [];
  unread = [];

  constructor(vocabulary, id = null) {
    this.vocabulary = vocabulary;
    this.id = id;
  }

  /** The reading as plain data, with every key of the contract present. */
  asDict() {
    const { vocabulary, id, statements, notices, places, dates, unread } = this;
    return { format: FORMAT, vocabulary, id, statements, notices, places, dates, unread };
  }
}
