"""What is wrong with what we were given, said in one plain sentence."""

from __future__ import annotations


class Fault(Exception):  # noqa: N818 - "fault" is our word: an error is what a program makes, a fault is in what it was given
    """A wrong use or a wrong input: the message is one sentence that says where, what and how to mend.

    The command line prints the message and leaves with exit code 2; nothing else may print it.
    """


class Faults(Fault):
    """Several faults of one run, told together: each line of the message is one of them."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults
