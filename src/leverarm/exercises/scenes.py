"""The invented machines and pieces that problems are told with."""

SCENES = {
    "machine": ("plot tractor", "yard tractor", "meadow tractor", "pitch tractor"),
    "thing": ("bucket", "pallet fork", "weight block", "stone rake"),
}
