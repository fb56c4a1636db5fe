"""What the sources say: rule sets and the files they are read from, plugins found, checked and refused."""
