"""A small class that writes in Spanish: two dishes in plain words, one with a swap and links."""

from __future__ import annotations

from pathlib import Path

CLASS = """\
name: Mesa de los martes
place: Salón de la esquina
first day: 2027-09-14
starts: "15:00"
minutes: 90
fixed: {arrive: 5, talk: 5, eat: 15, clean up: 10}
ages: 9-12
tables: [4, 4]
helpers: 2
measuring: {cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]}
equipment: {hornilla: 2, olla: 2, sartén: 2, cuchillo: 8, tabla: 8, tazón: 4, fregadero: 1,
  colador: 2, termómetro: 2, nevera: 1, espátula: 2, cuchara de madera: 2, tenedor: 8, plato: 12}
households: [2, 4]
languages: [es]
needs:
  - {table: 2, avoid: [milk]}
sessions:
  - {dishes: [tacos, arroz]}
"""

TACOS = """\
---
title: Tacos de pollo
place: Puebla, México
country: MX
serves: 4
ingredients:
  - 500 g de pechuga de pollo
  - 1 cebolla, picada
  - 2 cucharadas de aceite
  - 8 tortillas de maíz
  - 1/2 taza de queso fresco, desmoronado
  - 1 limón
  - sal, al gusto
swaps:
  - {instead of: queso fresco, use: "1 aguacate, en cubitos", because: milk}
words: [sofreír]
---

Así los preparan en los puestos del mercado.

## Steps

1. Corta el pollo en tiras sobre la tabla. Lava la tabla, el cuchillo y tus manos con jabón.
    - time: 8 min
2. Sofríe la cebolla en el aceite hasta que esté blanda. Agrega el pollo y cocínalo hasta que
   llegue a 74 °C en el centro.
    - time: 12 min
3. Calienta las tortillas en la sartén. Repártelas en platos limpios, rellénalas con el pollo y
   ponles [la mitad del queso](#queso-fresco "1/2") encima.
    - time: 6 min
4. Exprime el limón sobre los tacos y sírvelos con sal y [el resto del queso](#queso-fresco "rest").
    - time: 3 min

## Talk

- ¿Qué le pasó al pollo en la sartén?
"""

ARROZ = """\
---
title: Arroz blanco
place: Lima, Perú
country: PE
serves: 4
ingredients:
  - 1 taza de arroz
  - 2 tazas de agua
  - 1 cucharadita de sal
---

El de todos los días.

## Steps

1. Enjuaga el arroz en el colador.
    - time: 2 min
2. Hierve el agua con la sal en una olla. Agrega el arroz, tápalo y cocínalo a fuego lento 15
   minutos.
    - time: 3 min
    - wait: 15 min
3. Apaga el fuego y sírvelo enseguida.
    - time: 2 min

## Talk

- ¿Adónde se fue el agua?
"""

WORDS = """\
sofreír:
  say: so-fre-ÍR
  meaning: freír un poco, a fuego suave
"""


def write_spanish_class(folder: Path) -> Path:
    """Writes the class below `folder`."""
    files = {
        "class.yaml": CLASS,
        "recipes/tacos.md": TACOS,
        "recipes/arroz.md": ARROZ,
        "words.yaml": WORDS,
    }
    for name, text in files.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder
