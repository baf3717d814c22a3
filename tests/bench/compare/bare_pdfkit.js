// Draws the strings with pdfkit: node bare_pdfkit.js STRINGS FONTS OUT [COUNT].
const fs = require('fs');
const PDFDocument = require('pdfkit');

const faces = ['Regular', 'Bold', 'Italic'];

function draw(doc, word, f) {
  if (word === 'text') {
    const [x, y, size] = [+f[0], +f[1], +f[2]];
    doc.font(faces[+f[3]]).fontSize(size);
    if (f[4] === '1') doc.save().rotate(-90, { origin: [x, y] });
    doc.text(f[5], x, y, { lineBreak: false, baseline: 'alphabetic' });
    if (f[4] === '1') doc.restore();
    return;
  }
  const n = f.map(Number);
  if (word === 'box') {
    doc.rect(n[0], n[1], n[2], n[3]);
    if (n[4]) doc.fill(); else doc.stroke();
  } else if (word === 'rule') {
    doc.lineWidth(n[4]).moveTo(n[0], n[1]).lineTo(n[2], n[3]).stroke();
  } else {
    doc.moveTo(n[0], n[1]);
    for (let i = 2; i + 1 < n.length; i += 2) doc.lineTo(n[i], n[i + 1]);
    doc.closePath().fill();
  }
}

function write(strings, fonts, out) {
  return new Promise((done) => {
    const doc = new PDFDocument({ autoFirstPage: false, margin: 0 });
    doc.pipe(fs.createWriteStream(out)).on('finish', done);
    for (const face of faces) doc.registerFont(face, `${fonts}/OhmleafSans-${face}.ttf`);
    for (const line of fs.readFileSync(strings, 'utf8').split('\n')) {
      if (!line) continue;
      const [word, ...fields] = line.split('\t');
      if (word === 'page') doc.addPage({ size: [+fields[0], +fields[1]], margin: 0 });
      else draw(doc, word, fields);
    }
    doc.end();
  });
}

(async () => {
  const [strings, fonts, out, count] = process.argv.slice(2);
  for (let i = 0; i < +(count || 1); ++i) await write(strings, fonts, out);
})();
