#include "base/digest.h"

#include <openssl/evp.h>
#include <openssl/hmac.h>
#include <openssl/rand.h>

#include <array>
#include <new>

namespace ohmleaf {
namespace {

std::string digest(const EVP_MD* kind, std::string_view bytes) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> out{};
  unsigned length = 0;
  // It fails where memory does, and for no other reason that is known: an empty digest would be filed.
  if (EVP_Digest(bytes.data(), bytes.size(), out.data(), &length, kind, nullptr) != 1 || length == 0)
    throw std::bad_alloc();
  return std::string(reinterpret_cast<const char*>(out.data()), length);
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

std::string sha256_hex(std::string_view bytes) { return to_hex(digest(EVP_sha256(), bytes)); }
std::string sha512_hex(std::string_view bytes) { return to_hex(digest(EVP_sha512(), bytes)); }
std::string md5_raw(std::string_view bytes) { return digest(EVP_md5(), bytes); }

std::string hmac_sha512_hex(std::string_view key, std::string_view bytes) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> out{};
  unsigned length = 0;
  if (HMAC(EVP_sha512(), key.data(), static_cast<int>(key.size()),
           reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(), out.data(),
           &length) == nullptr)
    throw std::bad_alloc();
  return to_hex({reinterpret_cast<const char*>(out.data()), length});
}

std::optional<std::string> random_hex(std::size_t count) {
  std::string bytes(count, '\0');
  if (RAND_bytes(reinterpret_cast<unsigned char*>(bytes.data()), static_cast<int>(count)) != 1)
    return std::nullopt;
  return to_hex(bytes);
}

}  // namespace ohmleaf
