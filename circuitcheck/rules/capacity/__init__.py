"""Rules about capacity: load, breaker, ampacity, drop, box fill and conductor size. One file a rule."""
