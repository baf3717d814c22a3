#include "base/digest.h"

#include <nettle/hmac.h>
#include <nettle/md5.h>
#include <nettle/sha2.h>
#include <sys/random.h>

#include <array>
#include <cerrno>
#include <cstdint>

namespace ohmleaf {
namespace {

// Nettle allocates nothing and cannot fail. (A digest that failed for want of memory was filed once.)

const std::uint8_t* bytes_of(std::string_view text) {
  return reinterpret_cast<const std::uint8_t*>(text.data());
}

template <std::size_t N>
std::string text_of(const std::array<std::uint8_t, N>& digest) {
  return std::string(reinterpret_cast<const char*>(digest.data()), digest.size());
}

int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

}  // namespace

std::string to_hex(std::string_view bytes) {
  static constexpr std::string_view digits = "0123456789abcdef";
  std::string out;
  out.reserve(bytes.size() * 2);
  for (const char c : bytes) {
    const auto u = static_cast<unsigned char>(c);
    out += digits[u >> 4];
    out += digits[u & 15];
  }
  return out;
}

std::optional<std::string> from_hex(std::string_view hex) {
  if (hex.size() % 2 != 0) return std::nullopt;
  std::string out;
  for (std::size_t i = 0; i < hex.size(); i += 2) {
    const int high = hex_value(hex[i]), low = hex_value(hex[i + 1]);
    if (high < 0 || low < 0) return std::nullopt;
    out += static_cast<char>(high * 16 + low);
  }
  return out;
}

std::string sha256_hex(std::string_view bytes) {
  sha256_ctx state;
  std::array<std::uint8_t, SHA256_DIGEST_SIZE> out;
  ::sha256_init(&state);
  ::sha256_update(&state, bytes.size(), bytes_of(bytes));
  ::sha256_digest(&state, out.size(), out.data());
  return to_hex(text_of(out));
}

std::string sha512_hex(std::string_view bytes) {
  sha512_ctx state;
  std::array<std::uint8_t, SHA512_DIGEST_SIZE> out;
  ::sha512_init(&state);
  ::sha512_update(&state, bytes.size(), bytes_of(bytes));
  ::sha512_digest(&state, out.size(), out.data());
  return to_hex(text_of(out));
}

std::string md5_raw(std::string_view bytes) {
  md5_ctx state;
  std::array<std::uint8_t, MD5_DIGEST_SIZE> out;
  ::md5_init(&state);
  ::md5_update(&state, bytes.size(), bytes_of(bytes));
  ::md5_digest(&state, out.size(), out.data());
  return text_of(out);
}

std::string hmac_sha512_hex(std::string_view key, std::string_view bytes) {
  hmac_sha512_ctx state;
  std::array<std::uint8_t, SHA512_DIGEST_SIZE> out;
  ::hmac_sha512_set_key(&state, key.size(), bytes_of(key));
  ::hmac_sha512_update(&state, bytes.size(), bytes_of(bytes));
  ::hmac_sha512_digest(&state, out.size(), out.data());
  return to_hex(text_of(out));
}

std::optional<std::string> random_hex(std::size_t count) {
  std::string bytes(count, '\0');
  for (std::size_t done = 0; done < count;) {
    const ssize_t n = ::getrandom(bytes.data() + done, count - done, 0);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return std::nullopt;
    done += static_cast<std::size_t>(n);
  }
  return to_hex(bytes);
}

}  // namespace ohmleaf
