"""How each error is mended at the command line: which option to use."""

from critique.errors import CritiqueError, Mend

MENDS: dict[Mend, str] = {
    "room_or_other_folder": ", or choose another folder with --out",
    "other_folder": "; choose another folder with --out",
    "other_portfolio_folder": "; choose another --out",
    "portfolio_ledger": ", or choose another --out",
    "portfolio_apart": "; choose another --out, which may lie in it",
    "rules_file": "; check --rules",
    "rules_example": "; see critique portfolio --help for an example",
    "norms_table": ": make one with critique norms FOLDER --out my-best.csv",
    "dask": ": pip install 'critique[cluster]'",
    "cluster_address": "; check --cluster",
    "swatch_photograph": ": give --photo",
    "swatch_dabs": ": give --masstone and --tint, or --photo with three spots",
    "swatch_spots": ": --masstone-at, --tint-at and --white-at",
    "plan_folder": ", such as critique plan writes",
    "chart_finder": ", or pip install 'critique[chart]'",
    "paint_names": "; critique paints list names those there are",
    "third_white": ": give --third-white-parts",
    "lead_all": " with --like-all",
}


def line_of(error: CritiqueError) -> str:
    """An error as one line, with the option that mends it."""
    return f"{error}{MENDS[error.mend]}" if error.mend is not None else str(error)
