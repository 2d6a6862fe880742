"""Rules about the entries themselves: danger signs, who may do it, what was looked at."""
