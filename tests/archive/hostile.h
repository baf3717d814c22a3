#pragma once
#include <string>
#include <utility>
#include <vector>

/// Names that somebody might give a job, a folder or a file to lead a program astray.
namespace hostile {

/// More than 200: upward and absolute paths, reserved names of other systems, control and
/// bidirectional characters, names too long, not UTF-8, and harmless ones that look odd.
std::vector<std::string> names();
/// Two different texts that some file system takes for one name.
std::vector<std::pair<std::string, std::string>> twins();

}  // namespace hostile
