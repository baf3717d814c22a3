#pragma once
#include "app/images.h"

namespace ohmleaf::late {
/// libpng and libjpeg.
struct Pictures {
  static constexpr const char* kModule = "pictures";
  decltype(&app::decode_png) decode_png;
  decltype(&app::decode_jpeg) decode_jpeg;
  decltype(&app::encode_png) encode_png;
};
}  // namespace ohmleaf::late
