"""The looks: dark, light, high contrast. Orange and blue carry the outcomes, beside their marks and words."""

from __future__ import annotations

from textual.theme import Theme

DARK = Theme(
    name="circuit-dark",
    primary="#5aa9e6",
    secondary="#8fb8de",
    accent="#4fd1c5",
    warning="#f2c14e",
    error="#ff8f5a",
    success="#9ccc8c",
    foreground="#e6e9ee",
    background="#14181f",
    surface="#1b212b",
    panel="#252d3a",
    boost="#2e3848",
    dark=True,
    variables={
        "row-cursor": "#20374f",
        "row-blurred": "#232c39",
        "text-muted": "#a9b4c4",
        "text-error": "#ffa279",
        "text-warning": "#f6cf6d",
        "text-primary": "#8cc7f5",
        "text-success": "#b4dba6",
        "text-accent": "#74e0d6",
        "footer-key-foreground": "#f2c14e",
        "footer-background": "#252d3a",
        "footer-description-foreground": "#e6e9ee",
    },
)

LIGHT = Theme(
    name="circuit-light",
    primary="#0b5394",
    secondary="#38618c",
    accent="#00695c",
    warning="#7a5200",
    error="#a53a00",
    success="#2f6b1f",
    foreground="#1a1d21",
    background="#fbfaf7",
    surface="#f2f0ea",
    panel="#e4e1d8",
    boost="#d6d2c6",
    dark=False,
    variables={
        "row-cursor": "#c9dcf0",
        "row-blurred": "#e9e6dd",
        "text-muted": "#51565e",
        "text-error": "#9a3300",
        "text-warning": "#6b4700",
        "text-primary": "#0b4a85",
        "text-success": "#285c1a",
        "text-accent": "#005a4f",
        "footer-key-foreground": "#7a3b00",
        "footer-background": "#e4e1d8",
        "footer-description-foreground": "#1a1d21",
    },
)

HIGH_CONTRAST = Theme(
    name="circuit-contrast",
    primary="#ffffff",
    secondary="#ffffff",
    accent="#00ffff",
    warning="#ffff00",
    error="#ffb070",
    success="#ffffff",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#000000",
    boost="#1a1a1a",
    dark=True,
    variables={
        "row-cursor": "#00285a",
        "row-blurred": "#262626",
        "text-muted": "#ffffff",
        "text-error": "#ffb070",
        "text-warning": "#ffff00",
        "text-primary": "#9fd4ff",
        "text-success": "#ffffff",
        "text-accent": "#00ffff",
        "block-cursor-background": "#ffff00",
        "block-cursor-foreground": "#000000",
        "border": "#ffffff",
        "border-blurred": "#ffffff",
        "footer-key-foreground": "#ffff00",
        "footer-background": "#000000",
        "footer-description-foreground": "#ffffff",
    },
)

THEMES: tuple[Theme, ...] = (DARK, LIGHT, HIGH_CONTRAST)

#: What a theme that is not ours (none is offered) would take for our own variables.
VARIABLE_DEFAULTS = {"row-cursor": "#20374f", "row-blurred": "#232c39"}
