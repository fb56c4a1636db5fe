"""Each kind of document: how a value is written, read back and described."""
