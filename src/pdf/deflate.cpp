#include "pdf/deflate.h"

#include <libdeflate.h>

namespace ohmleaf::pdf {
namespace {

/// Of libdeflate, 1 to 12: compressing is most of the work, and the fifth level took three times as
/// long to take off a twelfth.
constexpr int kLevel = 1;

}  // namespace

Deflater::Deflater() = default;
Deflater::~Deflater() = default;

void Deflater::Free::operator()(libdeflate_compressor* packer) const {
  libdeflate_free_compressor(packer);
}

std::string Deflater::operator()(std::string_view bytes) {
  if (!packer_) packer_.reset(libdeflate_alloc_compressor(kLevel));
  if (!packer_) return {};
  const std::size_t most = libdeflate_zlib_compress_bound(packer_.get(), bytes.size());
  if (room_.size() < most) room_.resize(most);
  return room_.substr(0, libdeflate_zlib_compress(packer_.get(), bytes.data(), bytes.size(),
                                                  room_.data(), room_.size()));
}

}  // namespace ohmleaf::pdf
