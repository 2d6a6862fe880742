"""What follows from a checked circuit: the splices of every box, the cut list, the materials, the order of work.

Pure functions from circuit, report and rulebook to data. Nothing here writes or lays out.
"""
