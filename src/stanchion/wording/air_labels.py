"""The names of the fields of air springs and of the pressure outside."""

from __future__ import annotations

from stanchion.job.model import Path

# By the last steps of a path. At most 22 characters: so wide is the column.
AIR_LABELS: dict[Path, str] = {
    ("air", "in_use_c"): "Temperature in use",
    ("air", "wanted_bar"): "Pressure wanted in use",
    ("set_in", "altitude_m"): "Altitude when set",
    ("set_in", "barometer_hpa"): "Barometer when set",
    ("gas_set_in", "altitude_m"): "Gas set at altitude",
    ("gas_set_in", "barometer_hpa"): "Gas set at barometer",
    ("gas_set_in",): "Where its gas was set",
    ("closed_in", "altitude_m"): "Altitude when closed",
    ("closed_in", "barometer_hpa"): "Barometer when closed",
    ("altitude_m",): "Altitude",
    ("barometer_hpa",): "Barometer",
    ("set_in",): "Where it was set",
    ("closed_in",): "Where it was closed",
    ("air", "fitted"): "Sprung by air",
    ("air", "pressure_bar"): "Air pressure",
    ("air", "set_at_c"): "Pressure set at",
    ("air", "most_bar"): "Highest allowed",
    ("air", "bore_mm"): "Bore, main chamber",
    ("air", "length_mm"): "Chamber length",
    ("air", "volume_ml"): "Chamber volume",
    ("air", "balance"): "Balance chamber",
    ("air", "port_mm"): "Port at travel",
    ("air", "balance_bar"): "Balance pressure",
    ("air", "rod_mm"): "Rod diameter",
    ("air", "balance_length_mm"): "Balance length",
    ("air", "balance_ml"): "Balance volume",
    ("air", "outer"): "Outer chamber",
    ("air", "outer_bar"): "Outer pressure",
    ("air", "outer_most_bar"): "Outer highest",
    ("air", "outer_bore_mm"): "Outer bore",
    ("air", "outer_tube_mm"): "Tube in it",
    ("air", "outer_length_mm"): "Outer length",
    ("air", "outer_ml"): "Outer volume",
    ("air",): "Air spring",
}
