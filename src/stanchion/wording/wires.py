"""Kinds of spring wire: the standard's designation, or what such springs look like, and their shear modulus."""

from __future__ import annotations

WIRES: dict[str, str] = {
    "unknown": "77.2 to 81.5 GPa; ordinary: black, coloured",
    "ordinary": "black or coloured: A401, A229, EN 10270-2",
    "en_10270_1": "drawn, bright: 81.5 GPa",
    "en_10270_2": "oil-hardened, also CrSi: 79.5 GPa",
    "music": "ASTM A228: 80 to 82.7 GPa",
    "hard_drawn": "ASTM A227: 78.6 to 80.7 GPa",
    "oil_tempered": "ASTM A229: 77.2 GPa",
    "chrome_silicon": "ASTM A401: 77.2 GPa",
    "chrome_vanadium": "ASTM A232: 77.2 GPa",
    "stainless": "ASTM A313: 69 GPa",
}
