// Draws the strings with cairo and nothing else: "bare_cairo STRINGS FONTS OUT [COUNT]".
#include <cairo-ft.h>
#include <cairo-pdf.h>

#include <cstdlib>

#include "content.h"

namespace {

using compare::Item;

void draw(cairo_t* cr, const Item& item, cairo_font_face_t* const* faces) {
  const auto& n = item.numbers;
  switch (item.kind) {
    case Item::Kind::page:
      break;
    case Item::Kind::text:
      cairo_set_font_face(cr, faces[item.face]);
      cairo_set_font_size(cr, n[2]);
      cairo_move_to(cr, n[0], n[1]);
      if (item.rotated) {
        cairo_save(cr);
        cairo_rotate(cr, -1.5707963267948966);
      }
      cairo_show_text(cr, item.text.c_str());
      if (item.rotated) cairo_restore(cr);
      break;
    case Item::Kind::box:
      cairo_rectangle(cr, n[0], n[1], n[2], n[3]);
      n[4] != 0 ? cairo_fill(cr) : cairo_stroke(cr);
      break;
    case Item::Kind::rule:
      cairo_set_line_width(cr, n[4]);
      cairo_move_to(cr, n[0], n[1]);
      cairo_line_to(cr, n[2], n[3]);
      cairo_stroke(cr);
      break;
    case Item::Kind::form:
      for (std::size_t i = 0; i + 1 < n.size(); i += 2) cairo_line_to(cr, n[i], n[i + 1]);
      cairo_close_path(cr);
      cairo_fill(cr);
      break;
  }
}

int write(const std::vector<Item>& items, const char* out, cairo_font_face_t* const* faces) {
  cairo_surface_t* surface = cairo_pdf_surface_create(out, 595.276, 841.890);
  cairo_t* cr = cairo_create(surface);
  bool open = false;
  for (const Item& item : items) {
    if (item.kind == Item::Kind::page) {
      if (open) cairo_show_page(cr);
      cairo_pdf_surface_set_size(surface, item.numbers[0], item.numbers[1]);
      open = true;
    } else {
      draw(cr, item, faces);
    }
  }
  cairo_show_page(cr);
  cairo_destroy(cr);
  cairo_surface_finish(surface);
  const int failed = cairo_surface_status(surface);
  cairo_surface_destroy(surface);
  return failed;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 4) return 2;
  FT_Library library;
  if (FT_Init_FreeType(&library) != 0) return 3;
  cairo_font_face_t* faces[3];
  for (int i = 0; i < 3; ++i) {
    FT_Face face;
    if (FT_New_Face(library, compare::font_path(argv[2], i).c_str(), 0, &face) != 0) return 3;
    faces[i] = cairo_ft_font_face_create_for_ft_face(face, 0);
  }
  const int count = argc > 4 ? std::atoi(argv[4]) : 1;
  for (int i = 0; i < count; ++i)
    if (write(compare::read(argv[1]), argv[3], faces) != 0) return 3;
  return 0;
}
