"""Rules that the work sets off besides capacity: one file a rule."""
