"""The build hook that puts the vocabulary, the shapes and the site's source into the wheel."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

DATA_FOLDERS = ("vocab", "shapes", "site")


class CarryData(BuildHookInterface[Any]):
    """Adds the data folders as margent/_data/; an editable install goes without, or it would read a stale copy."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Nothing comes back: the folders are added to the build's own list."""
        if version == "editable":
            return
        for name in DATA_FOLDERS:
            folder = Path(self.root) / name
            if not folder.is_dir():
                message = f"{folder}: missing, and a wheel without it cannot work"
                raise FileNotFoundError(message)
            build_data["force_include"][str(folder)] = f"margent/_data/{name}"
