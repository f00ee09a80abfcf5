"""Colours of Display P3 in sRGB, from the published primaries and white point alone.

Run: python3 tests/reference/display_p3.py
"""

# x and y of red, green and blue: IEC 61966-2-1 and SMPTE EG 432-1; both with D65 (0.3127, 0.3290).
SRGB = [(0.640, 0.330), (0.300, 0.600), (0.150, 0.060)]
P3 = [(0.680, 0.320), (0.265, 0.690), (0.150, 0.060)]
WHITE = (0.3127, 0.3290)


def xyz(x, y):
    return [x / y, 1.0, (1 - x - y) / y]


def solve(m, v):
    """Cramer's rule."""
    det = lambda a: (a[0][0] * (a[1][1] * a[2][2] - a[1][2] * a[2][1])
                     - a[0][1] * (a[1][0] * a[2][2] - a[1][2] * a[2][0])
                     + a[0][2] * (a[1][0] * a[2][1] - a[1][1] * a[2][0]))
    return [det([[v[r] if c == k else m[r][c] for c in range(3)] for r in range(3)]) / det(m)
            for k in range(3)]


def to_xyz(primaries):
    columns = [xyz(*p) for p in primaries]
    m = [[columns[c][r] for c in range(3)] for r in range(3)]
    scale = solve(m, xyz(*WHITE))
    return [[m[r][c] * scale[c] for c in range(3)] for r in range(3)]


def linear(byte):
    v = byte / 255
    return v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4


def coded(v):
    v = min(max(v, 0), 1)
    return round(255 * (v * 12.92 if v <= 0.0031308 else 1.055 * v ** (1 / 2.4) - 0.055))


def srgb_of(p3):
    m = to_xyz(P3)
    light = [linear(b) for b in p3]
    colour = [sum(m[r][c] * light[c] for c in range(3)) for r in range(3)]
    return [coded(v) for v in solve(to_xyz(SRGB), colour)]


for colour in [(150, 110, 70), (200, 170, 130), (128, 128, 128), (90, 60, 45)]:
    print(colour, srgb_of(colour))
