// Draws the strings with libharu's public calls and nothing else:
// "bare_haru STRINGS FONTS OUT [COUNT]".
#include <hpdf.h>

#include <cstdlib>

#include "content.h"

namespace {

using compare::Item;

constexpr float kHeight = 841.89F;

extern "C" void failed(HPDF_STATUS, HPDF_STATUS, void*) {
  std::_Exit(3);
}

void outline(HPDF_Page page, const std::vector<double>& n, float height) {
  for (std::size_t i = 0; i + 1 < n.size(); i += 2) {
    const auto x = static_cast<float>(n[i]), y = height - static_cast<float>(n[i + 1]);
    i == 0 ? HPDF_Page_MoveTo(page, x, y) : HPDF_Page_LineTo(page, x, y);
  }
}

void draw(HPDF_Page page, const Item& item, const HPDF_Font* fonts, float height) {
  const auto at = [&](std::size_t i) { return static_cast<float>(item.numbers[i]); };
  switch (item.kind) {
    case Item::Kind::page:
      break;
    case Item::Kind::text:
      HPDF_Page_SetFontAndSize(page, fonts[item.face], at(2));
      HPDF_Page_BeginText(page);
      if (item.rotated)
        HPDF_Page_SetTextMatrix(page, 0, 1, -1, 0, at(0), height - at(1));
      else
        HPDF_Page_SetTextMatrix(page, 1, 0, 0, 1, at(0), height - at(1));
      HPDF_Page_ShowText(page, item.text.c_str());
      HPDF_Page_EndText(page);
      break;
    case Item::Kind::box:
      HPDF_Page_Rectangle(page, at(0), height - at(1) - at(3), at(2), at(3));
      at(4) != 0 ? HPDF_Page_Fill(page) : HPDF_Page_Stroke(page);
      break;
    case Item::Kind::rule:
      HPDF_Page_SetLineWidth(page, at(4));
      HPDF_Page_MoveTo(page, at(0), height - at(1));
      HPDF_Page_LineTo(page, at(2), height - at(3));
      HPDF_Page_Stroke(page);
      break;
    case Item::Kind::form:
      outline(page, item.numbers, height);
      HPDF_Page_ClosePath(page);
      HPDF_Page_Fill(page);
      break;
  }
}

void write(const std::vector<Item>& items, const std::string& folder, const char* out) {
  HPDF_Doc doc = HPDF_New(failed, nullptr);
  HPDF_SetCompressionMode(doc, HPDF_COMP_ALL);
  HPDF_UseUTFEncodings(doc);
  HPDF_Font fonts[3];
  for (int i = 0; i < 3; ++i) {
    const char* name =
        HPDF_LoadTTFontFromFile(doc, compare::font_path(folder, i).c_str(), HPDF_TRUE);
    fonts[i] = HPDF_GetFont(doc, name, "UTF-8");
  }
  HPDF_Page page = nullptr;
  float height = kHeight;
  for (const Item& item : items) {
    if (item.kind == Item::Kind::page) {
      page = HPDF_AddPage(doc);
      height = static_cast<float>(item.numbers[1]);
      HPDF_Page_SetWidth(page, static_cast<float>(item.numbers[0]));
      HPDF_Page_SetHeight(page, height);
    } else {
      draw(page, item, fonts, height);
    }
  }
  HPDF_SaveToFile(doc, out);
  HPDF_Free(doc);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 4) return 2;
  const int count = argc > 4 ? std::atoi(argv[4]) : 1;
  for (int i = 0; i < count; ++i) write(compare::read(argv[1]), argv[2], argv[3]);
  return 0;
}
