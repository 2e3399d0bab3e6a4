"""Shares with their interval, as the tables print them."""

from math import sqrt
from statistics import NormalDist, fmean, stdev

Z95 = NormalDist().inv_cdf(0.975)


def wilson(hits: int, trials: int) -> tuple[float, float]:
    """The 95 % score interval of a share: all p with |hits/trials - p| <= z * sqrt(p (1 - p) / trials).

    Source: Wilson, E. B. (1927), Probable inference, the law of succession, and statistical inference,
    J. Amer. Statist. Assoc. 22, 209-212.
    """
    if not trials:
        return 0.0, 1.0
    share, zz = hits / trials, Z95 * Z95
    middle = share + zz / (2 * trials)
    half = Z95 * sqrt(share * (1 - share) / trials + zz / (4 * trials * trials))
    scale = 1 + zz / trials
    return max(0.0, (middle - half) / scale), min(1.0, (middle + half) / scale)


def difference_words(differences: list[float]) -> str:
    """ "0.4 [-1.0 to 1.8]": the mean of paired differences with its 95 % interval (normal approximation)."""
    if len(differences) < 2:
        return "too few tried"
    half = Z95 * stdev(differences) / sqrt(len(differences))
    mean = fmean(differences)
    return f"{mean:.1f} [{mean - half:.1f} to {mean + half:.1f}]"


def share_words(hits: int, trials: int) -> str:
    """ "3 of 400: 0.8 [0.3-2.2]", in percent."""
    if not trials:
        return "none tried"
    low, high = wilson(hits, trials)
    digits = 2 if high < 0.01 else 1
    share, low, high = (f"{100 * part:.{digits}f}" for part in (hits / trials, low, high))
    return f"{hits} of {trials}: {share} [{low}-{high}]"
