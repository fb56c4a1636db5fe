"""A joint as it was made, against its plan; clips to be used again; the record of a joint and the register of many."""
