"""Pictures that show what was measured, one module a question."""
