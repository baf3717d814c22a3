#pragma once
#include <memory>
#include <string>
#include <string_view>

struct libdeflate_compressor;

namespace ohmleaf::pdf {

/// Compresses as all streams of ours are (zlib's format, RFC 1950). One serves for many.
class Deflater {
 public:
  Deflater();
  ~Deflater();
  Deflater(const Deflater&) = delete;
  Deflater& operator=(const Deflater&) = delete;

  /// Nothing where memory is short: a stream is then stored as it is.
  std::string operator()(std::string_view bytes);

 private:
  struct Free {
    void operator()(libdeflate_compressor* packer) const;
  };
  std::unique_ptr<libdeflate_compressor, Free> packer_;
  std::string room_;  ///< what comes out is kept, and no longer than it is
};

}  // namespace ohmleaf::pdf
