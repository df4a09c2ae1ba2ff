#!/usr/bin/env python3
"""Draws the pictures of the Skerrow example: silhouettes, marks and borders, as SVG beside this file.

The pottery is invented, so there is nothing to photograph. Needs Python 3 alone; the same files come out every time.
Colours are of the Okabe-Ito palette. Each picture has a title and a description for readers who cannot see it.
"""
import math
import os

INK, BLUE, SKY, RED, GREY, PAPER = "#000000", "#0072B2", "#56B4E9", "#D55E00", "#999999", "#f7f3ea"
HERE = os.path.dirname(os.path.abspath(__file__))


def save(name, width, height, title, description, body):
    text = (f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}" role="img">\n'
            f"<title>{title}</title>\n<desc>{description}</desc>\n"
            f'<rect width="{width}" height="{height}" fill="{PAPER}"/>\n' + "\n".join(body) + "\n</svg>\n")
    with open(os.path.join(HERE, name), "w", encoding="utf-8", newline="\n") as out:
        out.write(text)


def path(d, fill=INK, stroke="none", width=0):
    return f'<path d="{d}" fill="{fill}" stroke="{stroke}" stroke-width="{width}" stroke-linejoin="round"/>'


def words(x, y, text, size=16, fill=INK):
    return f'<text x="{x}" y="{y}" font-family="serif" font-size="{size}" text-anchor="middle" fill="{fill}">{text}</text>'


def anchor(x, y, size, colour=BLUE):
    """Ring, stock, shank and arms; the right fluke is a little longer, as on the oldest mark."""
    s = size / 100
    return [f'<circle cx="{x}" cy="{y - 42 * s:.1f}" r="{9 * s:.1f}" fill="none" stroke="{colour}" stroke-width="{6 * s:.1f}"/>',
            path(f"M{x} {y - 33 * s:.1f}V{y + 45 * s:.1f}M{x - 24 * s:.1f} {y - 20 * s:.1f}H{x + 24 * s:.1f}"
                 f"M{x - 40 * s:.1f} {y + 12 * s:.1f}C{x - 34 * s:.1f} {y + 60 * s:.1f} {x + 34 * s:.1f} {y + 60 * s:.1f} "
                 f"{x + 42 * s:.1f} {y + 6 * s:.1f}", "none", colour, round(7 * s, 1))]


def gull(x, y, span):
    h = span / 4
    return path(f"M{x - span} {y}Q{x - span / 2} {y - h:.1f} {x} {y}Q{x + span / 2} {y - h:.1f} {x + span} {y}", "none", GREY, 5)


def rope(x0, x1, y, strand=14):
    return [path(f"M{x} {y + 6}C{x + 4} {y - 8} {x + strand - 4} {y + 8} {x + strand} {y - 6}", "none", BLUE, 4)
            for x in range(x0, x1, strand)]


def tureen(x, y, colour=INK):
    """Seen from behind: body, foot, lid with knop, a lug on either side."""
    return [path(f"M{x - 90} {y}Q{x - 80} {y + 80} {x} {y + 84}Q{x + 80} {y + 80} {x + 90} {y}Z", colour),
            path(f"M{x - 40} {y + 82}H{x + 40}L{x + 50} {y + 100}H{x - 50}Z", colour),
            path(f"M{x - 92} {y - 6}Q{x} {y - 74} {x + 92} {y - 6}Z", colour),
            f'<circle cx="{x}" cy="{y - 48}" r="12" fill="{colour}"/>',
            path(f"M{x - 92} {y + 14}h-24v18h30ZM{x + 92} {y + 14}h24v18h-30Z", colour)]


def jug():
    body = [path("M120 70L150 60H270L300 40L292 84Q330 190 282 300H140Q92 190 128 84Z", "#ffffff", INK, 3),
            path("M122 110C40 100 40 250 112 250", "none", INK, 14), path("M122 110C40 100 40 250 112 250", "none", PAPER, 6)]
    body += rope(134, 284, 98) + [gull(205, 180, 44), words(84, 186, "IK", 13, GREY)]
    save("halyard-jug.svg", 380, 340, "Halyard jug, drawn",
         "A jug with a rope-twist handle without a thumb rest, a painted rope round the neck and a gull on the side; IK under the handle.", body)


def stand():
    plates = [f'<ellipse cx="{60 + 62 * i}" cy="250" rx="34" ry="9" fill="#ffffff" stroke="{INK}"/>' for i in range(6)]
    table = [f'<rect x="20" y="258" width="440" height="26" fill="{GREY}"/>']
    save("stand-1958.svg", 480, 300, "The stand at the winter fair, January 1958, drawn",
         "A table laid for six; behind the plates a covered vessel with two lugs, seen from behind.",
         ['<g opacity="0.55">'] + tureen(215, 140) + ["</g>"] + table + plates + [words(240, 40, "SKERROW", 24)])


def shapes():
    outlines = {
        "fathom": "M70 70H190V90H206V150H190V170H70V150H54V90H70ZM206 100H250V84H262V116H206ZM54 100H20V140H54V130H32V112H54Z",
        "lantern": "M90 60H170L210 110L180 180H80L50 110ZM206 112L256 80L262 92L200 140ZM54 104H14V150H62V138H28V116H58Z",
        "pinnace": "M40 90Q130 70 220 90Q200 180 130 180Q60 180 40 90ZM214 96L270 60L276 74L206 136ZM46 96Q0 110 58 152L62 140Q26 112 52 106Z",
        "halyard": "M80 70Q130 54 180 70Q220 130 180 180H80Q40 130 80 70ZM192 100Q240 110 250 78L264 84Q250 140 200 136ZM68 96C8 90 8 166 70 160L68 146C30 150 30 108 66 110Z",
        "orlop": "M64 76H196V170Q196 184 180 184H80Q64 184 64 170ZM196 110L240 92L248 106L196 138ZM64 96H30V156H64V140H46V112H64Z",
        "tern": "M60 100Q130 40 200 100Q190 180 130 182Q70 180 60 100ZM196 108Q230 120 262 70Q262 140 194 146ZM62 110Q20 60 12 92Q20 130 66 140Q34 118 30 98Q44 100 62 122Z",
    }
    top = {"fathom": 67, "lantern": 57, "pinnace": 76, "halyard": 60, "orlop": 73, "tern": 70}
    for name, outline in outlines.items():
        y = top[name]
        lid = f'<path d="M96 {y}Q130 {y - 32} 164 {y}Z"/><circle cx="130" cy="{y - 22}" r="8"/>'
        save(f"shape-{name}.svg", 290, 210, f"{name.capitalize()} teapot in silhouette", f"The outline of the {name.capitalize()} teapot.",
             [path(outline), lid])


def marks():
    def ring(rx, ry):
        return f'<ellipse cx="100" cy="100" rx="{rx}" ry="{ry}" fill="none" stroke="{BLUE}" stroke-width="4"/>'
    save("mark-anchor-1.svg", 200, 200, "Mark: anchor without words", "An anchor, printed in blue.", anchor(100, 100, 120))
    save("mark-anchor-2.svg", 200, 200, "Mark: anchor over GARROW QUAY", "An anchor over two words.",
         anchor(100, 80, 100) + [words(100, 170, "GARROW QUAY", 18, BLUE)])
    save("mark-anchor-3.svg", 200, 200, "Mark: anchor in an oval", "An anchor over GARROW QUAY in an oval.",
         [ring(92, 84)] + anchor(100, 84, 80) + [words(100, 154, "GARROW QUAY", 15, BLUE)])
    sheaf = [path(f"M{100 + 4 * i} 134L{100 + 12 * i} 60", "none", BLUE, 3) for i in range(-3, 4)] + [path("M84 104H116", "none", BLUE, 6)]
    save("mark-np-circular.svg", 200, 200, "Mark: NORTHERN PROVIDENT round a sheaf", "A sheaf in a ring with the buyer's name.",
         [ring(90, 90)] + sheaf + [words(100, 42, "NORTHERN", 15, BLUE), words(100, 166, "PROVIDENT", 15, BLUE)])
    save("mark-calloway-lozenge.svg", 200, 200, "Mark: C &amp; D in a lozenge", "Two letters and a sign in a lozenge, red.",
         [path("M100 30L180 100L100 170L20 100Z", "none", RED, 5), words(100, 110, "C &amp; D", 30, RED)])
    save("mark-ik-cipher.svg", 200, 200, "Mark: IK, painted", "The letters I and K in one stroke of the brush.",
         [path("M70 60V140M100 60V140M140 62Q110 96 102 100Q120 110 142 140", "none", GREY, 8)])


def borders():
    def plate(name, title, description, inner):
        save(name, 260, 260, title, description, [f'<circle cx="130" cy="130" r="120" fill="#ffffff" stroke="{INK}"/>'] + inner)
    band = f'<circle cx="130" cy="130" r="114" fill="none" stroke="{BLUE}" stroke-width="9"/>'
    line = f'<circle cx="130" cy="130" r="98" fill="none" stroke="{BLUE}" stroke-width="2"/>'
    plate("treatment-n12.svg", "N12 Provident Blue", "A blue rim and, inside it, a thin blue line.", [band, line])
    plate("treatment-c32.svg", "C32 Blue Rim", "A blue rim and no line.", [band])
    knots = []
    for i in range(40):
        a, b = math.radians(9 * i), math.radians(9 * i + 11)
        knots.append(path(f"M{130 + 108 * math.cos(a):.1f} {130 + 108 * math.sin(a):.1f}L{130 + 98 * math.cos(b):.1f} "
                          f"{130 + 98 * math.sin(b):.1f}", "none", BLUE, 4))
    plate("treatment-h317.svg", "H317 Rope and Gull", "A rope border and two gulls.", knots + [gull(110, 120, 34), gull(158, 150, 26)])


def main():
    jug()
    stand()
    shapes()
    marks()
    borders()
    save("orlop-tureen.svg", 260, 240, "Orlop tureen in silhouette", "A covered tureen with lug handles.", tureen(130, 110))


if __name__ == "__main__":
    main()
