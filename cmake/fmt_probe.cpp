// Whether libfmt, compiled from its headers, is all that our texts need.
#include <fmt/format.h>

int main(int count, char** words) {
  return fmt::format("{:>5} {:.3f} {:x} {}", words[0], 0.5 * count, count, std::string("Ω")).empty();
}
