// Answers to margent/faults.py: what is wrong with what we were given, said in one plain sentence.

/** A fault in what was given; its message is one plain sentence. */
export class Fault extends Error {
  name = "Fault";
}
