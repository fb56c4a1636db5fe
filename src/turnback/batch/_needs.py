"""The libraries that this room stands on, asked for once and with one clear error."""

from __future__ import annotations

from turnback.errors import PluginError

__all__ = ["LIBRARIES"]

LIBRARIES = ("numpy", "pyarrow")
"""What the extra ``turnback[batch]`` installs."""

try:
    import numpy
    import pyarrow
except ImportError as missing:
    raise PluginError(
        "the column path needs numpy and pyarrow, and one of them is not installed",
        field="turnback.batch",
        value=str(missing),
        instead="Install both with: pip install 'turnback[batch]'.",
    ) from missing
if not (hasattr(numpy, "atan") and hasattr(pyarrow, "RecordBatch")):
    raise PluginError(
        "the column path needs numpy 2 or later",
        field="turnback.batch",
        value=f"numpy {numpy.__version__}",
        instead="Install it with: pip install 'turnback[batch]'.",
    )
