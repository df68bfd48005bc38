"""The interface in French: what carries safety; from memory, not reviewed by a native mechanic."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

SIGNAL_WORDS: Final = MappingProxyType(
    {"DANGER": "DANGER", "WARNING": "AVERTISSEMENT", "CAUTION": "ATTENTION", "NOTICE": "AVIS"}
)
"""As printed on safety labels for the American trade (ANSI Z535.4 and ISO 3864-2 in translation, from memory)."""

WORDS: Final = MappingProxyType(
    {
        "The maker’s manual for the machine on your bench comes first, and so do local codes. Leave work that needs a licence where you live to those who hold one. When in doubt, stop and ask.":
        "Le manuel du fabricant de la machine que vous avez devant vous et les règles locales passent avant tout. Laissez le travail qui exige un permis dans votre pays à ceux qui le détiennent. En cas de doute, arrêtez et demandez.",
        "Safety": "Sécurité",
        "Safety notice": "Avis de sécurité",
        "Draft edition.": "Édition provisoire.",
        "Draft.": "Provisoire.",
        "Not all of it has been reviewed.": "Tout n’a pas été vérifié.",
        "Not all of it has been reviewed: do not rely on it at the bench.": "Tout n’a pas été vérifié : ne vous y fiez pas pour travailler.",
        "DRAFT: not all of it has been reviewed": "PROVISOIRE : tout n’a pas été vérifié",
        "(not in this edition)": "(pas dans cette édition)",
        "How it works is not told in this edition.": "Cette édition n’explique pas comment cela fonctionne.",
        "original:": "original en anglais :",
        "Steps": "Étapes",
        "Function test and hand-over": "Essai de fonctionnement et remise",
        "How to do it": "Comment faire",
        "First:": "D’abord :",
        "Check:": "Vérifiez :",
        "Note:": "Remarque :",
        "Tools": "Outils",
        "Parts": "Pièces",
        "Values": "Valeurs",
        "Take out of use": "Mettez la machine hors service",
    }
)  # fmt: skip
