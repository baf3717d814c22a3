#pragma once
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "base/files.h"
#include "cli/run.h"
#include "places.h"

// A folder of its own for each test, with the samples copied in, and an Environment that records
// what was said.

namespace ohmleaf::test {

namespace fs = std::filesystem;

inline std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

inline void spit(const fs::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

/// Replaces the one occurrence of `from`; false unless there is exactly one.
inline bool replace_once(const fs::path& path, const std::string& from, const std::string& to) {
  std::string text = slurp(path);
  const auto at = text.find(from);
  if (at == std::string::npos || text.find(from, at + 1) != std::string::npos) return false;
  spit(path, text.replace(at, from.size(), to));
  return true;
}

/// Runs a tool of the system and gives what it prints on standard output.
inline std::string tool(const std::string& command, int* status = nullptr) {
  std::string out;
  FILE* pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr) return out;
  std::array<char, 4096> buffer{};
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe))
    out.append(buffer.data(), n);
  const int code = ::pclose(pipe);
  if (status != nullptr) *status = code;
  return out;
}

struct World {
  fs::path root;
  std::string out, err;
  bool out_open = true;
  bool err_is_terminal = false;
  bool in_is_terminal = false, out_is_terminal = false;
  std::string input;                      ///< what is typed or piped in
  DateTime wall{{2026, 11, 20}, 9, 12, 0};
  std::function<void(int line)> before_line;  ///< called before each line is read, from 0
  std::function<bool()> interrupted;
  Instant now{1795773600};  // 2026-11-27T10:00:00Z

  World() {
    root = make_scratch_folder(fs::temp_directory_path(), "ohmleaf-").value();
    fs::copy(fs::path(source_root()) / "samples", root, fs::copy_options::recursive);
  }
  ~World() {
    std::error_code ec;
    fs::remove_all(root, ec);
  }
  World(const World&) = delete;
  World& operator=(const World&) = delete;

  fs::path job(const char* sample) const { return root / sample / "job.toml"; }
  std::string path(const char* name) const { return (root / name).string(); }

  int run(const std::vector<std::string>& args) {
    out.clear();
    err.clear();
    cli::Environment e;
    e.out = [this](std::string_view t) {
      if (out_open) out += t;
      return out_open;
    };
    e.err = [this](std::string_view t) {
      err += t;
      return true;
    };
    e.now = [this] { return now; };
    e.err_is_terminal = err_is_terminal;
    e.in_is_terminal = in_is_terminal;
    e.out_is_terminal = out_is_terminal;
    e.wall_clock = [this] { return wall; };
    e.interrupted = [this] { return interrupted && interrupted(); };
    e.read_line = [this, count = 0]() mutable -> std::optional<std::string> {
      if (before_line) before_line(count++);
      if (input.empty() || (interrupted && interrupted())) return std::nullopt;
      const auto end = input.find('\n');
      std::string line = input.substr(0, end);
      input.erase(0, end == std::string::npos ? end : end + 1);
      return line;
    };
    e.data_folder = fs::path(source_root());
    e.scratch_folder = root;
    return cli::run(args, e);
  }

  std::string pdf_text(const fs::path& pdf) const {
    return tool("pdftotext -layout '" + pdf.string() + "' -");
  }
  /// Every file below the root with its bytes, to show that nothing was written.
  std::vector<std::string> files() const {
    std::vector<std::string> all;
    for (const auto& entry : fs::recursive_directory_iterator(root))
      all.push_back(entry.path().string() + (entry.is_regular_file() ? "\n" + slurp(entry.path()) : ""));
    std::sort(all.begin(), all.end());
    return all;
  }
};

}  // namespace ohmleaf::test
