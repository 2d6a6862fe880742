"""Rules about low-voltage lights behind a driver. One file a rule."""
