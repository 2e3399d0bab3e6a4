"""A made-up shop: joints, papers, people and their mistakes; it draws no conclusion from them."""

from .scenes import NoSuchScene, PieceTruth, PlaceTruth, Root, Scene, Truth, law_cases, simulate
from .settings import LARGE, ROOT_KINDS, SMALL, Rates, RootKind, Settings

__all__ = [
    "LARGE",
    "ROOT_KINDS",
    "SMALL",
    "NoSuchScene",
    "PieceTruth",
    "PlaceTruth",
    "Rates",
    "Root",
    "RootKind",
    "Scene",
    "Settings",
    "Truth",
    "law_cases",
    "simulate",
]
