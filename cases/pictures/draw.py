#!/usr/bin/env python3
"""Draws the two pictures beside it, which stand in for photographs of machines that do not exist: run it in its folder."""

import math
import struct
import zlib

WIDTH, HEIGHT = 420, 280
PAPER, INK, STEEL, WORN, OIL, DUST = 245, 40, 168, 110, 62, 205


def save(name, shade):
    """An 8-bit grey PNG (ISO/IEC 15948) of `shade(x, y)`, the mean of four looks at each pixel."""
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    def pixel(x, y):
        return sum(shade(x + a, y + b) for a in (.25, .75) for b in (.25, .75)) // 4

    rows = b"".join(b"\0" + bytes(pixel(x, y) for x in range(WIDTH)) for y in range(HEIGHT))
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", WIDTH, HEIGHT, 8, 0, 0, 0, 0))
    with open(name, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(rows, 9)) + chunk(b"IEND", b""))


def worn_idler(x, y):
    """The rim of an idler cut across: a flange between two treads that are worn hollow, new ones dashed."""
    across = abs(x - WIDTH / 2)
    new_top = 60 if across < 46 else 120
    hollow = 34 * math.sin(math.pi * (across - 46) / 114) if 46 < across < 160 else 0
    top = new_top + (4 if across < 46 else 12 + hollow)
    if across < 160 and abs(y - new_top) < 1.2 and int(x) % 12 < 7:
        return INK
    if across < 160 and top < y < 235:
        return INK if min(y - top, 160 - across, 235 - y) < 2.5 else WORN if y - top < 9 else STEEL
    return PAPER


def oily_roller(x, y):
    """A bottom roller from outside, on the rail: oil has run from its cover down the end and holds dust."""
    far = math.hypot(x - WIDTH / 2, y - 120)
    run = 20 + 7 * math.sin(y / 17) + (y - 120) / 9
    if y > 130 and abs(x - WIDTH / 2 + 6) < run and far < 104:
        return OIL
    if y > 120 and abs(x - WIDTH / 2 + 6) < run + 11 and far < 104:
        return DUST if (int(x) * 7 + int(y) * 13) % 5 else WORN
    if far < 104:
        rim = min(104 - far, abs(far - 80), abs(far - 40))
        bolt = min(math.hypot(x - WIDTH / 2 - 60 * math.cos(a), y - 120 - 60 * math.sin(a)) for a in (.5, 2.6, 3.7, 5.7))
        return INK if rim < 2 or abs(bolt - 8) < 1.6 else STEEL
    if 224 < y < 258:
        return INK if min(y - 224, 258 - y) < 2.5 else DUST
    return PAPER


save("worn_idler.png", worn_idler)
save("oily_roller.png", oily_roller)
