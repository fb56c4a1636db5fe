"""Pages for Sphinx, made from the loaded objects: rule sets, laws, services, sources, and where sources differ.

A site of a plugin gets the pages that the site of the library has, with ``extensions = ["turnback.sphinxext"]``. It
needs Sphinx and hypothesis: ``pip install 'turnback[docs]'``. Nothing else of the library imports this floor.
"""

from turnback.sphinxext.extension import setup

__all__ = ["setup"]
