"""Loaded before any plugin: what an import would build and no test uses.

The plugin that runs notebooks imports jsonschema, which makes a parser of international web
addresses where it finds a grammar for them: two seconds in each process of the suite.  No schema
of a notebook asks for one.
"""

import sys

sys.modules.setdefault("rfc3987_syntax", None)  # an import of it now fails, as where it is not
