"""The Equal Earth projection: equal areas on the earth are equal areas on the paper.

Formula and constants: Šavrič, Patterson and Jenny, “The Equal Earth map projection”, International
Journal of Geographical Information Science 33 (2019), for a sphere.
"""

from __future__ import annotations

from math import asin, cos, radians, sin, sqrt

_A1, _A2, _A3, _A4 = 1.340264, -0.081106, 0.000893, 0.003796
_M = sqrt(3) / 2


def on_plane(latitude: float, longitude: float) -> tuple[float, float]:
    """Degrees to the plane, in earth radii: x to the east of Greenwich, y to the north."""
    theta = asin(_M * sin(radians(latitude)))
    square = theta * theta
    sixth = square**3
    x = (
        radians(longitude)
        * cos(theta)
        / (_M * (_A1 + 3 * _A2 * square + sixth * (7 * _A3 + 9 * _A4 * square)))
    )
    return x, theta * (_A1 + _A2 * square + sixth * (_A3 + _A4 * square))
