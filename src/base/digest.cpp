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

/// Feeds a started state, and reads the digest of `kSize` bytes out of it.
template <std::size_t kSize, class State>
std::string digest(State& state, void (*update)(State*, std::size_t, const std::uint8_t*),
                   void (*finish)(State*, std::size_t, std::uint8_t*), std::string_view bytes) {
  std::array<std::uint8_t, kSize> out;
  update(&state, bytes.size(), bytes_of(bytes));
  finish(&state, out.size(), out.data());
  return std::string(reinterpret_cast<const char*>(out.data()), out.size());
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
  ::sha256_init(&state);
  return to_hex(digest<SHA256_DIGEST_SIZE>(state, ::sha256_update, ::sha256_digest, bytes));
}

std::string sha512_hex(std::string_view bytes) {
  sha512_ctx state;
  ::sha512_init(&state);
  return to_hex(digest<SHA512_DIGEST_SIZE>(state, ::sha512_update, ::sha512_digest, bytes));
}

std::string md5_raw(std::string_view bytes) {
  md5_ctx state;
  ::md5_init(&state);
  return digest<MD5_DIGEST_SIZE>(state, ::md5_update, ::md5_digest, bytes);
}

std::string hmac_sha512_hex(std::string_view key, std::string_view bytes) {
  hmac_sha512_ctx state;
  ::hmac_sha512_set_key(&state, key.size(), bytes_of(key));
  return to_hex(digest<SHA512_DIGEST_SIZE>(state, ::hmac_sha512_update, ::hmac_sha512_digest, bytes));
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
