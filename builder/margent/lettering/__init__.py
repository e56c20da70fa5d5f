"""Reading a lettering: from the text in a print's margin to statements of who did what.

Everything here interprets the compiled reader (one JSON file made from vocab/): no rule, word or weight
stands in the code, and no case, normalisation or floating-point function touches text or weights, so
that another host can follow it function by function and give the same answer.
"""

from margent import native

__path__ = native.folders(__path__)
