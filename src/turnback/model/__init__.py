"""What the trade talks about, as typed values: ropes, clips, eyes and splices, sources, findings, steps."""
