"""The words for what loads and springs predict: findings on loads, on predicted sag and on the working rate."""

from __future__ import annotations

from stanchion.judgement.words import Words

PREDICTION: dict[str, Words] = {
    # --- loads --------------------------------------------------------------------------------------------------
    "scales_disagree_machine": Words(
        "Scales and machine's mass disagree",
        "Weights: the scales give {scales_kg:mass} for the machine alone, entered is {entered_kg:mass}. Weigh again; "
        "the scales are used.",
    ),
    "scales_disagree_rider": Words(
        "Scales and rider's mass disagree",
        "Weights: the scales give {scales_kg:mass} for the rider, entered is {entered_kg:mass}. Weigh again, in full "
        "gear; the scales are used.",
    ),
    "scales_disagree_aboard": Words(
        "Scales and masses disagree",
        "Weights: the scales give {scales_kg:mass} with the rider aboard, the masses {entered_kg:mass}. Weigh again; "
        "the scales are used.",
    ),
    "scales_swapped": Words(
        "Scale reads no more with the rider",
        "{path:label}: {aboard_kg:mass} with the rider aboard, {alone_kg:mass} alone. Swap the two readings or weigh "
        "again.",
    ),
}
