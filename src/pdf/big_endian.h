#pragma once
#include <cstdint>
#include <string>
#include <string_view>

namespace ohmleaf::pdf {

/// Big-endian numbers out of untrusted bytes. Reading past the end gives 0 and is remembered:
/// callers read what they need and ask once.
class BigEndian {
 public:
  explicit BigEndian(std::string_view bytes) : bytes_(bytes) {}

  std::uint16_t u16(std::size_t at) {
    if (at > bytes_.size() || bytes_.size() - at < 2) {
      complete_ = false;
      return 0;
    }
    return static_cast<std::uint16_t>(byte(at) << 8 | byte(at + 1));
  }
  std::int16_t i16(std::size_t at) { return static_cast<std::int16_t>(u16(at)); }
  std::uint32_t u32(std::size_t at) {
    const std::uint32_t high = u16(at);
    return high << 16 | u16(at + 2);
  }
  bool complete() const { return complete_; }

 private:
  unsigned byte(std::size_t at) const { return static_cast<unsigned char>(bytes_[at]); }
  std::string_view bytes_;
  bool complete_ = true;
};

inline void append_u16(std::string& out, unsigned value) {
  out.push_back(static_cast<char>(value >> 8 & 0xFF));
  out.push_back(static_cast<char>(value & 0xFF));
}

inline void append_u32(std::string& out, std::uint32_t value) {
  append_u16(out, value >> 16);
  append_u16(out, value & 0xFFFF);
}

inline void put_u16(std::string& out, std::size_t at, unsigned value) {
  out[at] = static_cast<char>(value >> 8 & 0xFF);
  out[at + 1] = static_cast<char>(value & 0xFF);
}

inline void put_u32(std::string& out, std::size_t at, std::uint32_t value) {
  put_u16(out, at, value >> 16);
  put_u16(out, at + 2, value & 0xFFFF);
}

}  // namespace ohmleaf::pdf
