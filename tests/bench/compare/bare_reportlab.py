"""Draws the strings with reportlab: bare_reportlab.py STRINGS FONTS OUT [COUNT]."""
import sys

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

FACES = ["Regular", "Bold", "Italic"]


def draw(canvas, word, fields, height):
    if word == "text":
        x, y, size = (float(n) for n in fields[:3])
        canvas.setFont(FACES[int(fields[3])], size)
        if fields[4] == "1":
            canvas.saveState()
            canvas.translate(x, height - y)
            canvas.rotate(90)
            canvas.drawString(0, 0, fields[5])
            canvas.restoreState()
        else:
            canvas.drawString(x, height - y, fields[5])
        return
    n = [float(field) for field in fields]
    if word == "box":
        canvas.rect(n[0], height - n[1] - n[3], n[2], n[3], stroke=int(n[4] == 0), fill=int(n[4]))
    elif word == "rule":
        canvas.setLineWidth(n[4])
        canvas.line(n[0], height - n[1], n[2], height - n[3])
    else:
        path = canvas.beginPath()
        path.moveTo(n[0], height - n[1])
        for i in range(2, len(n) - 1, 2):
            path.lineTo(n[i], height - n[i + 1])
        path.close()
        canvas.drawPath(path, stroke=0, fill=1)


def write(strings, out):
    canvas = Canvas(out, pageCompression=1)
    height = 0.0
    with open(strings, encoding="utf-8") as lines:
        for line in lines:
            word, *fields = line.rstrip("\n").split("\t")
            if word == "page":
                if height:
                    canvas.showPage()
                height = float(fields[1])
                canvas.setPageSize((float(fields[0]), height))
            else:
                draw(canvas, word, fields, height)
    canvas.save()


def main():
    strings, fonts, out = sys.argv[1:4]
    for face in FACES:
        pdfmetrics.registerFont(TTFont(face, f"{fonts}/OhmleafSans-{face}.ttf"))
    for _ in range(int(sys.argv[4]) if len(sys.argv) > 4 else 1):
        write(strings, out)


main()
