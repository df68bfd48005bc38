"""The interface in Spanish, as workshops in Latin America write it; from memory, not reviewed by a native mechanic."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

SIGNAL_WORDS: Final = MappingProxyType(
    {"DANGER": "PELIGRO", "WARNING": "ADVERTENCIA", "CAUTION": "PRECAUCIÓN", "NOTICE": "AVISO"}
)
"""As printed on safety labels for the American trade (ANSI Z535.4 and ISO 3864-2 in translation, from memory).

CAUTION has two translations in use, ATENCIÓN and PRECAUCIÓN; we take the one that means care and is no call for notice.
"""

WORDS: Final = MappingProxyType(
    {
        # Safety, and what tells a reader whether to go on.
        "The maker’s manual for the machine on your bench comes first, and so do local codes. Leave work that needs a licence where you live to those who hold one. When in doubt, stop and ask.":
        "Primero valen el manual del fabricante de la máquina que usted tiene delante y las normas locales. Deje el trabajo que exige licencia en su país a quienes la tienen. Si tiene dudas, deténgase y pregunte.",
        "Safety": "Seguridad",
        "Safety notice": "Aviso de seguridad",
        "Why these safety messages": "Por qué aparecen estos mensajes de seguridad",
        "Draft edition.": "Edición en borrador.",
        "Draft.": "Borrador.",
        "Not all of it has been reviewed.": "No todo el contenido ha sido revisado.",
        "Not all of it has been reviewed: do not rely on it at the bench.": "No todo el contenido ha sido revisado: no confíe en él para trabajar.",
        "DRAFT: not all of it has been reviewed": "BORRADOR: no todo ha sido revisado",
        "(not in this edition)": "(no está en esta edición)",
        "[no source]": "[sin fuente]",
        "[draft, not reviewed]": "[borrador, sin revisar]",
        "[changed since its review]": "[modificado después de su revisión]",
        "Take out of use": "Ponga la máquina fuera de servicio",
        "original:": "original en inglés:",
        # Pages to work from.
        "Steps": "Pasos",
        "Function test and hand-over": "Prueba de funcionamiento y entrega",
        "How to do it": "Cómo se hace",
        "Put back before going on": "Vuelva a dejarlo como estaba antes de seguir",
        "What it shows": "Qué muestra",
        "First:": "Antes:",
        "Check:": "Compruebe:",
        "Note:": "Nota:",
        "When it is done": "Cuando está terminado",
        "What it cures": "Qué corrige",
        "Tools": "Herramientas",
        "Parts": "Repuestos",
        "Values": "Valores",
        "Values used on this page": "Valores que se usan en esta página",
        "For": "Para",
        "Time": "Tiempo",
        "Skill": "Nivel",
        "Systems": "Sistemas",
        "a trainee can do it": "lo puede hacer un aprendiz",
        "for a mechanic": "para un mecánico",
        "for a specialist": "para un especialista",
        "all machines of this book": "todas las máquinas de este libro",
        "by the machine plate": "según la placa de la máquina",
        "by the engine plate": "según la placa del motor",
        "By the machine plate": "Según la placa de la máquina",
        "By the engine plate": "Según la placa del motor",
        "As found / as left": "Como se encontró / como quedó",
        "Figure": "Valor",
        "Sources": "Fuentes",
        "Review": "Revisión",
        "Sign-off": "Firmas",
        "Machine plate, serial number": "Placa de la máquina, número de serie",
        "Engine plate, code": "Placa del motor, código",
        "Done by": "Hecho por",
        "Date": "Fecha",
        "Checked by": "Comprobado por",
        "On this page": "En esta página",
        "Procedures that begin with it": "Procedimientos que empiezan con él",
        "Tests that call it": "Pruebas que lo usan",
        "In the service plan of": "En el plan de mantenimiento de",
        "How it works": "Cómo funciona",
        "Where it is used": "Dónde se usa",
        "Used by": "Se usa en",
        "Put it in the job": "Agregar al trabajo",
        "Why these figures": "Por qué estos valores",
        "Where this comes from": "De dónde viene esto",
        "In the drawing:": "En el dibujo:",
        "Give the counter the number on the machine plate": "Dé en el mostrador el número de la placa de la máquina",
        "Give the counter the number on the engine plate": "Dé en el mostrador el número de la placa del motor",
        "Everything in this book": "Todo lo que hay en este libro",
        "Draft: not all of it has been reviewed.": "Borrador: no todo ha sido revisado.",
        "Using this manual": "Cómo usar este manual",
        # Kinds and the frame of every page.
        "Symptom": "Síntoma", "Symptoms": "Síntomas", "Cause": "Causa", "Causes": "Causas",
        "Diagnostic test": "Prueba de diagnóstico", "Diagnostic tests": "Pruebas de diagnóstico",
        "Procedure": "Procedimiento", "Procedures": "Procedimientos", "Caution": "Mensaje de seguridad",
        "Cautions": "Mensajes de seguridad", "Machine": "Máquina", "Machines": "Máquinas", "Engine": "Motor",
        "Engines": "Motores", "System": "Sistema", "Value": "Valor", "Part": "Repuesto", "Tool": "Herramienta",
        "Term": "Término", "Glossary": "Glosario", "Source": "Fuente", "Drawing": "Dibujo", "Drawings": "Dibujos",
        "Edition": "Edición", "Editions": "Ediciones",
        "Skip to the page": "Ir al contenido", "Search": "Buscar", "Find": "Buscar", "Lists": "Listas",
        "All machines": "Todas las máquinas", "Job": "Trabajo", "Contents": "Contenido", "Changes": "Cambios",
        "symptom, part number, value": "síntoma, número de repuesto, valor",
    }
)  # fmt: skip
