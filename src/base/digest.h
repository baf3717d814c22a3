#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ohmleaf {

/// Lower-case hexadecimal digests, by Nettle. They cannot fail.
std::string sha256_hex(std::string_view bytes);
std::string sha512_hex(std::string_view bytes);
std::string hmac_sha512_hex(std::string_view key, std::string_view bytes);
/// MD5 serves one purpose: the CheckSum entry that PDF prescribes for an embedded file.
std::string md5_raw(std::string_view bytes);

/// `count` bytes from the system's generator, as lower-case hex; nothing where it fails.
std::optional<std::string> random_hex(std::size_t count);

std::string to_hex(std::string_view bytes);
/// Nothing if the text is not an even number of hex digits.
std::optional<std::string> from_hex(std::string_view hex);

}  // namespace ohmleaf
