"""How large the files of the look-up are, and how long they take, for an authority of many invented makers.

python tests/speed/look_up.py 100000
"""

import gc
import gzip
import sys
import tempfile
import time
from pathlib import Path

from invented_makers import write

from margent.publishing.look_up_shards import FOLDER, write_look_up
from margent.publishing.pages import Pages
from margent.vocabulary.load import load

ROOT = Path(__file__).resolve().parent.parent.parent


def main():
    gc.disable()  # as publishing does
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    with tempfile.TemporaryDirectory() as folder:
        write(Path(folder), number)
        vocabulary = load(ROOT / "vocab", [Path(folder)])
    pages = Pages(vocabulary)
    with tempfile.TemporaryDirectory() as site:
        began = time.perf_counter()
        write_look_up(vocabulary, pages, Path(site))
        took = time.perf_counter() - began
        sizes = sorted((len(gzip.compress(path.read_bytes(), 6)), path.name) for path in Path(site, FOLDER).iterdir())
    index = next(size for size, name in sizes if name == "index.js")
    sys.stdout.write(
        f"{number:,} makers: {len(sizes):,} files in {took:.1f} s, {sum(size for size, _ in sizes) / 1e6:.1f} MB gzipped\n"
    )
    sys.stdout.write(f"largest {sizes[-1][1]}, {sizes[-1][0]:,} bytes gzipped; index {index:,}\n")


if __name__ == "__main__":
    main()
