#pragma once
#include <cstddef>

namespace ohmleaf {

/// Says that about so many bytes will be allocated soon, in small pieces: they are taken from the
/// system in one go. Each page met for the first time interrupts the program otherwise, which on a
/// virtual machine takes 10 to 25 microseconds a page where this takes a half. Takes at most
/// `kMostExpected` at once; does nothing where there is no memory, and under the sanitizers.
void expect_memory(std::size_t bytes);
inline constexpr std::size_t kMostExpected = std::size_t{58} << 20;

/// From now on what is freed is kept for the next allocation, up to 64 MiB.
void keep_memory();

}  // namespace ohmleaf
