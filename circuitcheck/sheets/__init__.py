"""The sheets for before and after: the survey to walk the house with, the plan for whoever does the work.

Each builds one outline from the data that ``circuitcheck.advice`` works out; ``circuitcheck.paper`` renders it.
"""
