"""Pictures made ready for a call: an exhibition, a juror, a printer."""
