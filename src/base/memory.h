#pragma once
#include <cstddef>

namespace ohmleaf {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline constexpr bool kSanitized = true;
#elif defined(__has_feature)
inline constexpr bool kSanitized = __has_feature(address_sanitizer) || __has_feature(thread_sanitizer);  // NOLINT(misc-redundant-expression)
#else
inline constexpr bool kSanitized = false;
#endif

/// Says that about so many bytes will be allocated soon, in small pieces: they are taken from the
/// system in one go. Each page met for the first time interrupts the program otherwise, which on a
/// virtual machine takes 10 to 25 microseconds a page where this takes a half. Takes at most
/// `kMostExpected` at once; does nothing where there is no memory, and under the sanitizers.
void expect_memory(std::size_t bytes);
inline constexpr std::size_t kMostExpected = std::size_t{58} << 20;

/// From now on what is freed is kept for the next allocation, up to 64 MiB.
void keep_memory();

}  // namespace ohmleaf
