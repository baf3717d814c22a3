// Certificates signed electronically, from the command to other people's tools: poppler's pdfsig
// (NSS), the openssl program, and every way to spoil a signed file.
#include <cstdio>
#include <cstdlib>

#include "app/signing.h"
#include "base/text.h"

using namespace ohmleaf;
using namespace ohmleaf::test;
using authority::at;

namespace {

/// The signed ranges and the signature, taken out of the file by its own numbers.
struct Parts {
  std::size_t begin = 0, end = 0;
  std::string signed_bytes, signature;
};
Parts parts_of(const std::string& pdf) {
  const std::string text = pdf.substr(pdf.find("/ByteRange"), 60);
  Parts p;
  unsigned long zero = 1, begin = 0, end = 0, rest = 0;
  REQUIRE(std::sscanf(text.c_str(), "/ByteRange [ %lu %lu %lu %lu", &zero, &begin, &end, &rest) ==
          4);
  REQUIRE(zero == 0);
  p.begin = begin;
  p.end = end;
  p.signed_bytes = pdf.substr(0, begin) + pdf.substr(end, rest);
  for (std::size_t i = begin + 1; i + 2 < end; i += 2)
    p.signature += static_cast<char>(std::stoi(pdf.substr(i, 2), nullptr, 16));
  const std::size_t length = 4 + static_cast<unsigned char>(p.signature[2]) * 256u +
                             static_cast<unsigned char>(p.signature[3]);
  p.signature.resize(length);
  return p;
}

/// A second version of the document after the first: the catalogue again, and a table that says so.
std::string updated(const std::string& pdf) {
  const std::size_t start = pdf.size();
  const std::size_t root = pdf.find("/Root ") + 6;
  const std::string number = pdf.substr(root, pdf.find(' ', root) - root);
  const std::size_t object = pdf.find("\n" + number + " 0 obj") + 1;
  std::string out = pdf + pdf.substr(object, pdf.find("endobj", object) - object) + "endobj\n";
  const std::size_t table = out.size();
  char offset[24];
  std::snprintf(offset, sizeof offset, "%010zu", start);
  const std::size_t last = pdf.rfind("startxref") + 10;
  const std::size_t trailer = pdf.rfind("trailer\n<<") + 10;
  out += "xref\n" + number + " 1\n" + offset + " 00000 n \ntrailer\n<< /Prev " +
         pdf.substr(last, pdf.find('\n', last) - last) +
         pdf.substr(trailer, pdf.find("startxref", trailer) - trailer) + "startxref\n" +
         std::to_string(table) + "\n%%EOF\n";
  return out;
}

}  // namespace

TEST_CASE("a signed certificate is valid to pdfsig, to openssl and to ohmleaf") {
  Signing w;
  REQUIRE_MESSAGE(w.issue("sewing-workshop") == 0, w.err);
  CHECK(w.out.find("  signed    electronically, with the certificate of R. Hollins\n") !=
        std::string::npos);
  CHECK(fold_for_search(w.err).find("the signing certificate is that of r. hollins, and the job is "
                                    "signed by rosalind hobday") != std::string::npos);
  const std::string pdf = slurp(w.filed("hl-0001"));

  const std::string poppler = tool("pdfsig '" + w.filed("hl-0001").string() + "' 2>&1");
  CAPTURE(poppler);
  CHECK(poppler.find("Signature Validation: Signature is Valid.") != std::string::npos);
  CHECK(poppler.find("Total document signed") != std::string::npos);
  CHECK(poppler.find("Signature Type: ETSI.CAdES.detached") != std::string::npos);
  CHECK(poppler.find("Signer Certificate Common Name: R. Hollins") != std::string::npos);
  CHECK(poppler.find("Signing Hash Algorithm: SHA-256") != std::string::npos);

  const Parts parts = parts_of(pdf);
  spit(w.path("signed"), parts.signed_bytes);
  spit(w.path("cms"), parts.signature);
  const std::string openssl = tool("cd '" + w.World::root.string() +
                                   "' && openssl cms -verify -cades -binary -inform DER -in cms "
                                   "-content signed -CAfile root.pem -out /dev/null 2>&1");
  CHECK(openssl.find("CAdES Verification successful") != std::string::npos);

  CHECK(w.verdict(pdf) == "holds, trusted 0");
  REQUIRE(w.in({"verify"}) == 0);
  CHECK(w.out.find("1 of 1 signed electronically") != std::string::npos);
  CHECK(w.out.find("by digests, chain and signature") != std::string::npos);
  REQUIRE(w.in({"verify", "--roots", w.path("root.pem")}) == 0);
  CHECK(w.out.find("Brindle Cross Root, whom you trust") != std::string::npos);

  // Told on the page, in one line of words; read aloud in the same place.
  const std::string text = fold_for_search(w.pdf_text(w.filed("hl-0001")));
  CHECK(text.find("signed electronically with the certificate of r. hollins") != std::string::npos);
  // All else comes out of its own data again.
  CHECK(w.in({"verify", "--rebuild"}) == 0);
  CHECK(w.out.find("identical") != std::string::npos);
  CHECK(w.out.find("all but the electronic signature") != std::string::npos);
  // A copy for others is not what was signed, and does not say so.
  REQUIRE(w.in({"redact", "HL-0001", "--to", w.path("copy.pdf")}) == 0);
  CHECK(slurp(w.path("copy.pdf")).find("/ByteRange") == std::string::npos);
  CHECK(w.pdf_text(w.path("copy.pdf")).find("Signed electronically") == std::string::npos);
}

TEST_CASE("each way to spoil a signed file is called by its name") {
  Signing w;
  REQUIRE(w.issue("sewing-workshop") == 0);
  REQUIRE(w.issue("tt-cottage") == 0);
  const std::string pdf = slurp(w.filed("hl-0001")), other = slurp(w.filed("hl-0002"));
  const Parts parts = parts_of(pdf), theirs = parts_of(other);
  REQUIRE(w.verdict(pdf) == "holds, trusted 0");
  REQUIRE(w.verdict(other) == "holds, trusted 0");

  // A byte of the pages, of the embedded job, of the ranges, the first and the last one.
  const std::size_t hole = parts.begin;
  for (const std::size_t i :
       {pdf.size() / 3, pdf.find("/EmbeddedFile"), pdf.find("/ByteRange") + 17,
        pdf.find("/ByteRange") + 3, hole - 20, std::size_t{9}, pdf.size() - 30}) {
    std::string bad = pdf;
    bad[i] = static_cast<char>(bad[i] ^ 1);
    CAPTURE(i);
    CHECK(w.verdict(bad) == "changed 1");
  }
  // A digit of the signature; one after it; the same digit as a capital.
  for (const std::size_t i : {hole + 101, parts.begin + 2 * parts.signature.size() + 9}) {
    std::string bad = pdf;
    bad[i] = bad[i] == '1' ? '2' : '1';
    CHECK(w.verdict(bad) == "altered 1");
  }
  std::string capital = pdf;
  const std::size_t letter = pdf.find_first_of("abcdef", hole + 1);
  capital[letter] = static_cast<char>(capital[letter] - 'a' + 'A');
  CHECK(w.verdict(capital) == "altered 1");

  for (const std::size_t gone :
       {std::size_t{1}, std::size_t{7}, std::size_t{5000}, pdf.size() / 2, pdf.size() - 100}) {
    CAPTURE(gone);
    CHECK(w.verdict(pdf.substr(0, pdf.size() - gone)) == "truncated 1");
  }
  CHECK(w.verdict(pdf + "\n") == "appended 1");
  CHECK(w.verdict(pdf + std::string(5000, ' ')) == "appended 1");
  const std::string update = updated(pdf);
  spit(w.path("update.pdf"), update);
  CHECK(tool("qpdf --check '" + w.path("update.pdf") + "' 2>&1").find("No syntax") !=
        std::string::npos);  // a document that readers open, the signature in it
  CHECK(w.verdict(update) == "updated 1");
  std::string both = update;
  both[pdf.size() / 3] = static_cast<char>(both[pdf.size() / 3] ^ 1);
  CHECK(w.verdict(both) == "updated 1");
  CHECK(w.out.find("was changed too") != std::string::npos);

  REQUIRE(parts.end - parts.begin == theirs.end - theirs.begin);
  std::string swapped = pdf;
  swapped.replace(parts.begin, parts.end - parts.begin,
                  other.substr(theirs.begin, theirs.end - theirs.begin));
  CHECK(w.verdict(swapped) == "exchanged 1");

  // The certificate in it: its last digits are those of the issuer's signature on it.
  const std::string name = "R. Hollins";
  std::string hex;
  for (const char c : name) {
    char two[3];
    std::snprintf(two, sizeof two, "%02x", static_cast<unsigned>(c));
    hex += two;
  }
  std::string wrong = pdf;
  const std::size_t subject = pdf.find(hex, hole);
  REQUIRE(subject < parts.end);
  wrong[subject + 1] = '3';  // "S. Hollins"
  CHECK(w.verdict(wrong) == "wrong certificate 1");

  CHECK(w.verdict("%PDF-1.7\nnonsense\n%%EOF\n") == "unreadable 1");
  CHECK(w.verdict("") == "unreadable 1");
  REQUIRE(w.run({"draft", w.path("sewing-workshop"), "-o", w.path("draft.pdf")}) == 0);
  CHECK(w.verdict(slurp(w.path("draft.pdf"))) == "none 1");
}

TEST_CASE("any byte of a signed file counts") {
  Signing w;
  REQUIRE(w.issue("sewing-workshop") == 0);
  const std::string pdf = slurp(w.filed("hl-0001"));
  // A place in each stretch of the file; OHMLEAF_LONG takes every seventh byte.
  const bool all = std::getenv("OHMLEAF_LONG") != nullptr;
  const std::size_t step = all ? 7 : pdf.size() / 40;
  std::size_t tried = 0, missed = 0;
  for (std::size_t i = 0; i < pdf.size(); i += step, ++tried) {
    std::string bad = pdf;
    bad[i] = static_cast<char>(bad[i] ^ (1 << (i % 7)));
    if (w.verdict(bad).starts_with("holds")) ++missed;
  }
  CHECK(tried >= 40);
  CHECK(missed == 0);
}

TEST_CASE("whose certificate it is: not trusted, expired, called by its own name") {
  Signing w;
  REQUIRE(w.issue("sewing-workshop") == 0);
  const std::string pdf = slurp(w.filed("hl-0001"));
  spit(w.path("other.pem"), authority::pem(authority::issue(authority::root_paper())));
  CHECK(w.verdict(pdf, "other.pem") == "holds, unknown 1");
  CHECK(w.in({"verify", "--roots", w.path("other.pem")}) == 1);
  CHECK(fold_for_search(w.out).find("is not vouched for by any of the roots given") !=
        std::string::npos);

  // The authority's own certificate had run out when this was signed.
  auto paper = authority::root_paper();
  paper.until = at("2026-11-27T09:00:00Z");
  const auto old = authority::issue(paper);
  spit(w.path("old.p12"), authority::pkcs12(authority::issue({}, &old), &old));
  spit(w.path("old.pem"), authority::pem(old));
  REQUIRE(w.issue("tt-cottage", "old.p12") == 0);
  CHECK(w.verdict(slurp(w.filed("hl-0002")), "old.pem") == "holds, expired 1");

  // The signer's own has run out since: what it rests on is said.
  w.now = at("2100-05-01T00:00:00Z");
  CHECK(w.verdict(pdf) == "holds, trusted 0");
  CHECK(w.run({"verify", w.path("sent.pdf")}) == 0);
  CHECK(fold_for_search(w.out).find("rests on the signer's own clock") != std::string::npos);
}
