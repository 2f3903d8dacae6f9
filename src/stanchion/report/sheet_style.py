"""How the HTML sheet looks: its colours, each named once, and its stylesheet for screen, phone and paper."""

from __future__ import annotations

PAPER = "#ffffff"
INK = "#15191d"
QUIET = "#4a5258"
RULE = "#0b5a5e"
HAIRLINE = "#c3cacd"
FAULT = "#9a0010"
WARNING = "#7a3d00"
TARGET = "#a9d3c4"
MARK = "#12347e"
PRINT_PT, ROOMY_PT = 8.2, 9.0
"""Size of letters on paper: where there is much to say, and where there is less."""

STYLE = f"""
:root {{ color-scheme: light; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0 auto; padding: 16px; max-width: 860px; color: {INK}; background: {PAPER};
  font: 15px/1.4 system-ui, "Liberation Sans", Arial, sans-serif; }}
h1 {{ font-size: 1.6em; line-height: 1.2; margin: 0; overflow-wrap: anywhere; }}
h2 {{ font-size: 1em; margin: 1em 0 0.2em; color: {RULE}; border-bottom: 2px solid {RULE}; }}
p {{ margin: 0.2em 0; overflow-wrap: anywhere; }}
dl {{ display: flex; flex-wrap: wrap; gap: 0 1.2em; margin: 0.2em 0; }}
dl div {{ min-width: 0; }}
dt {{ display: inline; color: {QUIET}; }}
dt::after {{ content: ": "; }}
dd {{ display: inline; margin: 0; overflow-wrap: anywhere; }}
.parts {{ display: grid; grid-template-columns: 1.4fr 1fr; gap: 0 24px; }}
.parts > * {{ min-width: 0; }}
table {{ width: 100%; border-collapse: collapse; }}
th, td {{ text-align: left; vertical-align: top; padding: 1px 6px 1px 0; border-bottom: 1px solid {HAIRLINE};
  font-variant-numeric: tabular-nums; }}
th {{ font-weight: 600; color: {QUIET}; }}
.free {{ overflow-wrap: anywhere; }}
ul {{ margin: 0.2em 0; padding-left: 1.1em; }}
li {{ overflow-wrap: anywhere; }}
.word {{ font-weight: 700; }}
.fault {{ color: {FAULT}; }}
.warning {{ color: {WARNING}; }}
.sample {{ display: inline-block; font-weight: 700; border: 2px solid {INK}; padding: 1px 8px; margin: 0.3em 0; }}
.closing {{ font-weight: 700; }}
.paper {{ display: none; }}
svg {{ display: block; width: 100%; max-width: 460px; height: auto; }}
svg text {{ font-size: 12px; fill: {INK}; }}
svg .quiet {{ fill: {QUIET}; }}
svg .line {{ stroke: {INK}; stroke-width: 1.5; }}
svg .room {{ fill: {PAPER}; stroke: {INK}; }}
svg .target {{ fill: {TARGET}; stroke: {INK}; stroke-width: 0.75; }}
svg .mark {{ fill: {MARK}; stroke: {MARK}; stroke-width: 2.5; }}
@page {{ size: auto; margin: 9mm; }}
@media print {{
  body {{ padding: 0; max-width: none; font-size: {PRINT_PT}pt; line-height: 1.18; }}
  body.roomy {{ font-size: {ROOMY_PT}pt; }}
  h1 {{ font-size: 1.35em; }}
  h2 {{ margin-top: 0.55em; break-after: avoid; }}
  th, td {{ padding-top: 0; padding-bottom: 0; }}
  p, ul, dl {{ margin-top: 0.1em; margin-bottom: 0.1em; }}
  ul {{ max-height: calc(var(--room) * 1.18em); overflow: hidden; }}
  .screen {{ display: none; }}
  .paper {{ display: block; }}
  span.paper {{ display: inline; }}
}}
@media (max-width: 640px) {{ .parts {{ grid-template-columns: 1fr; }} }}
@media (max-width: 480px) {{ body {{ padding: 10px; font-size: 14px; }} th, td {{ padding-right: 4px; }} }}
"""
