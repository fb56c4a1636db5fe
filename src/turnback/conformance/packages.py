"""Hashes of what was run: the files of a package, whether it lies in a wheel, a folder or an editable install."""

from __future__ import annotations

import importlib.util
import os
from hashlib import sha256

__all__ = ["package_hash"]

_PASSED_OVER = ("__pycache__",)


def package_hash(module: str) -> str:
    """Hash the files of the package that a module belongs to.

    Args:
        module: Dotted name of the module.

    Returns:
        SHA-256 over every file's path within the package and its bytes, in the order of the paths; empty where the
        package does not lie in a folder.
    """
    top = module.partition(".")[0]
    try:
        spec = importlib.util.find_spec(top)
    except (ImportError, ValueError):
        return ""
    if spec is None or spec.origin is None or os.path.basename(spec.origin) != "__init__.py":
        return ""
    root = os.path.dirname(spec.origin)
    whole = sha256()
    for name in sorted(_files(root)):
        with open(os.path.join(root, *name.split("/")), "rb") as file:
            digest = sha256(file.read()).hexdigest()
        whole.update(f"{name}\0{digest}\n".encode())
    return whole.hexdigest()


def _files(root: str) -> list[str]:
    found = []
    for place, folders, names in os.walk(root):
        folders[:] = [each for each in folders if each not in _PASSED_OVER]
        inner = os.path.relpath(place, root)
        parts = [] if inner == os.curdir else inner.split(os.sep)
        found += ["/".join([*parts, name]) for name in names if not name.endswith((".pyc", ".pyo"))]
    return found
