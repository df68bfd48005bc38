"""What scripts of the pages say, in Spanish: diagnosis, job, search, steps, calendar; from memory, not reviewed by a native mechanic."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

WORDS: Final = MappingProxyType(
    {
        # The guided diagnosis.
        "Something not in this book": "Algo que no está en este libro",
        "something not in this book": "algo que no está en este libro",
        "under 1\u00a0%": "menos de 1\u00a0%", "over 99\u00a0%": "más de 99\u00a0%",
        "nearly sure": "casi seguro", "likely": "probable", "possible": "posible", "unlikely": "poco probable", "hardly": "casi imposible",
        "would prove: {0}": "probaría: {0}",
        "then likeliest: {0}, {1}": "entonces lo más probable: {0}, {1}",
        "I could not check this": "No pude comprobarlo",
        "could not be checked": "no se pudo comprobar",
        "No single result of it proves a cause, but each narrows them down.":
        "Ningún resultado prueba por sí solo una causa, pero cada uno reduce las posibles.",
        "In about {0} of 100 cases like this one its result proves a cause at once: {1}.":
        "En unos {0} de cada 100 casos como este, el resultado prueba de inmediato una causa: {1}.",
        "Among all orders of the tests left, beginning with it takes the fewest minutes to a proof on average.":
        "De todos los órdenes posibles de las pruebas que quedan, empezar con esta lleva en promedio menos minutos hasta probar la causa.",
        "Among the most promising tests left, beginning with it takes the fewest minutes to a proof on average; there are too many orders to compare them all.":
        "De las pruebas más prometedoras que quedan, empezar con esta lleva en promedio menos minutos hasta probar la causa; hay demasiados órdenes para compararlos todos.",
        "Why this test now?": "¿Por qué esta prueba ahora?",
        "Try": "Intente", "Test": "Prueba", "Try:": "Intente:", "Test:": "Prueba:",
        ", with what is done first": ", con lo que se hace antes",
        "What to do": "Qué hacer", "What came of it?": "¿Qué resultó?", "What do you find?": "¿Qué encuentra?",
        "Before you go on": "Antes de seguir", "Before you go on:": "Antes de seguir:",
        "No procedure of this book cures it. Work by the maker’s manual.":
        "Ningún procedimiento de este libro lo corrige. Trabaje según el manual del fabricante.",
        "Choose the machine to see the parts.": "Elija la máquina para ver los repuestos.",
        "Proven:": "Causa probada:",
        "Read on its page what confirms it before you order or take apart anything.":
        "Lea en su página qué la confirma antes de pedir repuestos o desarmar algo.",
        "What cures it": "Qué lo corrige",
        "No test left is worth its time": "Ninguna prueba de las que quedan vale el tiempo que lleva",
        "Nothing is proven. The likeliest now is:": "No hay nada probado. Lo más probable ahora es:",
        "Work by the maker’s manual, or ask a colleague; do not change parts on suspicion.":
        "Trabaje según el manual del fabricante o pregunte a un colega; no cambie piezas por sospecha.",
        "nothing was proven": "no se probó nada",
        "Save what was found": "Guardar lo que se encontró",
        "Choose the date first.": "Elija primero la fecha.",
        "Write the minutes as a whole number, or leave them out.": "Escriba los minutos como número entero o déjelos en blanco.",
        "Saved as a file. Whoever keeps the repair log adds it with: shearpin log import FILE":
        "Guardado en un archivo. Quien lleva el registro de reparaciones lo agrega con: shearpin log import FILE",
        "Keep what was found": "Conservar lo que se encontró",
        "Machine, symptom, tests and cause are saved; nothing about the customer.":
        "Se guardan máquina, síntoma, pruebas y causa; nada sobre el cliente.",
        "What was proven in the end": "Qué se probó al final",
        "Minutes from the first test to the proof": "Minutos desde la primera prueba hasta probar la causa",
        "How likely each cause is now": "Probabilidad actual de cada causa",
        "Your answers": "Sus respuestas", "Undo the last answer": "Deshacer la última respuesta", "Begin again": "Empezar de nuevo",
        "Taken back: {0}.": "Respuesta retirada: {0}.", "All answers taken back.": "Todas las respuestas retiradas.",
        "Causes and tests differ by machine. Which one is it?": "Las causas y las pruebas cambian según la máquina. ¿Cuál es?",
        "Left out, for they are not of this machine or this book: {0}.": "Se omiten porque no son de esta máquina o de este libro: {0}.",
        "These answers contradict each other under every cause. Undo one.": "Estas respuestas se contradicen con cualquier causa. Deshaga una.",
        # The job.
        "Job ({0})": "Trabajo ({0})",
        "Put it in the job": "Agregar al trabajo", "It is in the job: show the job": "Está en el trabajo: ver el trabajo",
        ", once for {0} procedures": ", una vez para {0} procedimientos",
        "leave its function test to the end of the job, or do this once more after it: {0}.":
        "deje la prueba de funcionamiento para el final del trabajo, o repita esto después de ella: {0}.",
        "Take out": "Quitar", "{0}: taken out.": "{0}: quitado.",
        "(perhaps {0})": "(quizá {0})", "(and perhaps {0})": "(y quizá {0})", "({0}perhaps {1})": "({0}quizá {1})",
        "no number recorded; order by the plate": "sin número registrado; pida según la placa",
        "Give the counter the number on the {0} plate": "Dé en el mostrador el número de la placa ({0})",
        "{0} are saved by doing shared work once.": "Se ahorran {0} al hacer una sola vez el trabajo común.",
        "of work.{0}": "de trabajo.{0}", "of work.": "de trabajo.",
        "Write an amount such as 90 or 87.50.": "Escriba una cantidad como 90 u 87.50.",
        "Labor": "Mano de obra", ", at {0} an hour. Parts are not in it.": ", a {0} por hora. No incluye los repuestos.",
        "What an hour costs in your shop (it is not kept)": "Cuánto cuesta la hora en su taller (no se guarda)",
        "Left out: “{0}” is not for the {1}: {2}.": "Se omite: «{0}» no es para la {1}: {2}.",
        "Print the job": "Imprimir el trabajo", "Empty the job": "Vaciar el trabajo", "The job is empty.": "El trabajo está vacío.",
        "{0} (special tool)": "{0} (herramienta especial)",
        "Work, in this order": "Trabajo, en este orden",
        "This book has no procedure “{0}”.": "Este libro no tiene el procedimiento «{0}».",
        "The job is empty. Open a": "El trabajo está vacío. Abra un", "and put it in the job.": "y agréguelo al trabajo.",
        "procedure": "procedimiento",
        "Choose the machine at the top of the page: parts, cautions and what fits depend on it.":
        "Elija la máquina arriba en la página: de ella dependen los repuestos, los mensajes de seguridad y lo que corresponde.",
        "In the job": "En el trabajo", "with what is done before it": "con lo que se hace antes",
        # The machine.
        "Last worked on": "Últimas máquinas", "not for the {0}": "no es para la {0}",
        "You work on the {0}, and this page is not about it.": "Usted trabaja en la {0}, y esta página no trata de ella.",
        "This book has no machine “{0}”. No machine is chosen.": "Este libro no tiene la máquina «{0}». No hay máquina elegida.",
        "Dark theme": "Fondo oscuro", "Light theme": "Fondo claro",
        # The search.
        "Page": "Página", "page": "página", "pages": "páginas", "All kinds": "Todos los tipos", "Kind of page": "Tipo de página",
        "Only what fits the {0}": "Solo lo que corresponde a la {0}",
        "The search cannot read {0}: this copy of the manual is not whole.":
        "La búsqueda no puede leer {0}: esta copia del manual no está completa.",
        ", the best {0} shown": "; se muestran las {0} mejores",
        "Showing results for": "Resultados para", "Showing results for {0}": "Resultados para {0}",
        "{0} {1} found{2}.": "{0} {1}{2}.", "{0} {1} found, the best {2} shown.": "{0} {1}; se muestran las {2} mejores.",
        "{0} {1} found. Showing results for {2}": "{0} {1}. Resultados para {2}",
        ". Search instead for": ". Buscar en cambio",
        "Show more": "Mostrar más", "Search in all pages": "Buscar en todas las páginas",
        "Words of this book that look like it:": "Palabras parecidas en este libro:",
        "among the pages you chose": "entre las páginas que eligió",
        "Type a word that names the part or the fault.": "Escriba una palabra que nombre la pieza o la falla.",
        "Nothing found for “{0}”{1}.": "No se encontró nada para «{0}»{1}.",
        "Nothing found for “{0}” among the pages you chose.": "No se encontró nada para «{0}» entre las páginas que eligió.",
        "Noted on this computer for the writer.": "Anotado en esta computadora para quien escribe el libro.",
        "Save {0} that found nothing": "Guardar {0} sin resultado",
        "the search": "la búsqueda", "the list of {0} searches": "la lista de {0} búsquedas",
        "({0} times)": "({0} veces)", "1 search found nothing.": "1 búsqueda no encontró nada.",
        "{0} searches found nothing.": "{0} búsquedas no encontraron nada.",
        # The calendar of a service plan.
        "By running hours:": "Por horas de marcha:", "When it is due:": "Cuando haga falta:",
        "About {0} running hours after {1}, at {2} h a week.": "Unas {0} horas de marcha después del {1}, con {2} h por semana.",
        "The hours decide, not the date.": "Deciden las horas, no la fecha.",
        "Service plan: {0}": "Plan de mantenimiento: {0}",
        "Give the first day of the season.": "Indique el primer día de la temporada.",
        "This is no whole date.": "La fecha no está completa.",
        "The day of storage must be within a year after the first day.": "El día de guardado debe estar dentro del año que sigue al primer día.",
        "Give a number of hours up to 168, such as 4 or 2.5.": "Indique un número de horas hasta 168, como 4 o 2.5.",
        "{0}: {1} events, storage on {2}.": "{0}: {1} citas, guardado el {2}.",
        # Steps.
        "Step {0} is done": "El paso {0} está hecho",
        "Print the bench sheet": "Imprimir la hoja de trabajo", "Print all of it": "Imprimir todo",
        "Clear the ticks": "Borrar las marcas", "One step at a time": "Un paso a la vez",
        ", the last at {0}": ", el último a las {0}", "{0} of {1} steps ticked{2}.": "{0} de {1} pasos marcados{2}.",
        "{0} of {1} steps ticked, the last at {2}.": "{0} de {1} pasos marcados, el último a las {2}.",
        "Back": "Atrás", "Whole page": "Página completa", "Show the rest": "Mostrar lo que falta",
        "I have read this": "He leído esto", "Done: that was the last": "Hecho: era el último", "Done: next step": "Hecho: paso siguiente",
        "No machine chosen": "Ninguna máquina elegida", "Step {0} of {1}": "Paso {0} de {1}", "Before you start": "Antes de empezar",
        # The quiz.
        "Right.": "Correcto.", "Not right.": "No es correcto.", "No answer.": "Sin respuesta.",
        "{0} of {1} right, {2} %: passed.{3}": "{0} de {1} correctas, {2} %: aprobado.{3}",
        "{0} of {1} right, {2} %: not passed.{3}": "{0} de {1} correctas, {2} %: no aprobado.{3}",
        "The result has been reported.": "El resultado fue enviado.",
        "You have passed before, and that stays.": "Usted ya aprobó antes, y eso no cambia.",
        "The result could not be reported: tell your instructor.": "El resultado no se pudo enviar: avise a su instructor.",
    }
)  # fmt: skip
