#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "places.h"

// The layers point one way, and each outside library stands behind one file. The build enforces the
// first too; this test says it in one place and covers the second.

namespace ohmleaf {
namespace {

namespace fs = std::filesystem;

/// Whose headers each layer may include, its own aside.
const std::map<std::string, std::set<std::string>> kMay{
    {"base", {}},
    {"quantity", {"base"}},
    {"limits", {"base", "quantity"}},
    {"record", {"base", "quantity", "limits"}},
    {"checks", {"base", "quantity", "limits", "record"}},
    {"layout", {"base", "quantity", "limits", "record", "checks"}},
    {"pdf", {"base", "layout", "fonts"}},
    {"archive", {"base"}},
    {"seal", {"base"}},
    {"shipped", {"base", "pdf"}},  // forms as trees and compressed, and the tool that makes them
    {"app",
     {"base", "quantity", "limits", "record", "checks", "layout", "pdf", "archive", "seal", "shipped"}},
    {"cli",
     {"base", "quantity", "limits", "record", "checks", "layout", "pdf", "archive", "seal", "app"}},
    {"late", {"base", "layout", "pdf", "archive", "seal", "app"}},  // doors of modules
    {"", {"cli"}},  // main.cpp
};

/// Which layer an outside library belongs to: one file of it includes the library.
const std::map<std::string, std::string> kLibraries{
    {"toml++", "base"},   {"nlohmann", "base"},     {"nettle", "base"},   {"utf8proc.h", "base"},
    {"hpdf.h", "pdf"},    {"sqlite3.h", "archive"}, {"zip.h", "archive"}, {"png.h", "app"},
    {"jpeglib.h", "app"}, {"qpdf", "app"},          {"CLI", "cli"},
    {"libdeflate.h", "pdf"}, {"openssl", "seal"},
};

/// The whole layer is what OpenSSL stands behind.
constexpr const char* kOpenssl = "openssl";

struct Include {
  std::string file, layer, target;
  bool system = false;
};

/// The includes of one file, comments aside.
std::vector<Include> includes_of(const std::string& file, const std::string& text) {
  std::vector<Include> out;
  const std::size_t slash = file.find('/');
  const std::string layer = slash == std::string::npos ? "" : file.substr(0, slash);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    const std::size_t hash = line.find_first_not_of(" \t");
    if (hash == std::string::npos || line[hash] != '#') continue;
    const std::size_t word = line.find_first_not_of(" \t", hash + 1);
    if (word == std::string::npos || line.compare(word, 7, "include") != 0) continue;
    const std::size_t open = line.find_first_of("\"<", word);
    if (open == std::string::npos) continue;
    const std::size_t close = line.find_first_of("\">", open + 1);
    out.push_back({file, layer, line.substr(open + 1, close - open - 1), line[open] == '<'});
  }
  return out;
}

/// What the rules forbid, one sentence each.
std::vector<std::string> faults(const std::vector<Include>& includes) {
  std::vector<std::string> out;
  std::map<std::string, std::set<std::string>> users;
  for (const Include& i : includes) {
    const std::string first = i.target.substr(0, i.target.find('/'));
    const auto may = kMay.find(i.layer);
    if (may == kMay.end()) {
      out.push_back(i.file + ": an unknown layer");
    } else if (!i.system && i.target.find('/') == std::string::npos) {
      out.push_back(i.file + " includes \"" + i.target + "\" without its layer");
    } else if (i.target != first && (kMay.count(first) != 0 || first == "fonts") &&
               first != i.layer && may->second.count(first) == 0) {
      out.push_back(i.file + " includes " + i.target);
    }
    const auto library = kLibraries.find(first);
    if (library == kLibraries.end() || (first == kOpenssl && i.layer == library->second))
      continue;
    users[first].insert(i.file);
    if (library->second != i.layer) out.push_back(i.file + " includes " + i.target);
  }
  for (const auto& [library, files] : users)
    if (files.size() > 1)
      out.push_back(library + " is included by " + std::to_string(files.size()) + " files");
  return out;
}

std::vector<Include> all_includes() {
  const fs::path src = fs::path(source_root()) / "src";
  std::vector<Include> out;
  for (const auto& entry : fs::recursive_directory_iterator(src)) {
    const std::string ending = entry.path().extension().string();
    if (ending != ".h" && ending != ".cpp") continue;
    std::ifstream in(entry.path(), std::ios::binary);
    const std::string text(std::istreambuf_iterator<char>(in), {});
    const auto found = includes_of(fs::relative(entry.path(), src).string(), text);
    out.insert(out.end(), found.begin(), found.end());
  }
  return out;
}

std::vector<std::string> with_planted(const std::string& file, const std::string& line) {
  auto includes = all_includes();
  for (const Include& i : includes_of(file, "#pragma once\n" + line + "\n")) includes.push_back(i);
  return faults(includes);
}

}  // namespace

TEST_CASE("no layer includes one that it may not, and each library stands behind one file") {
  const auto includes = all_includes();
  CHECK(includes.size() > 100);
  std::string all;
  for (const std::string& f : faults(includes)) all += f + "\n";
  CHECK(all == "");
}

TEST_CASE("the scanner sees a planted line") {
  const std::size_t before = faults(all_includes()).size();
  struct Row {
    std::string file, line, said;
  };
  const Row rows[] = {
      {"base/x.h", "#include \"record/job.h\"", "base/x.h includes record/job.h"},
      {"limits/x.cpp", "  #  include \"checks/check.h\"", "limits/x.cpp includes checks/check.h"},
      {"record/x.cpp", "#include <toml++/toml.h>", "record/x.cpp includes toml++/toml.h"},
      {"layout/x.cpp", "#include <hpdf.h>", "layout/x.cpp includes hpdf.h"},
      {"layout/x.cpp", "#include \"pdf/pdf.h\"", "layout/x.cpp includes pdf/pdf.h"},
      {"archive/x.cpp", "#include \"record/job.h\"", "archive/x.cpp includes record/job.h"},
      {"app/x.cpp", "#include \"cli/run.h\"", "app/x.cpp includes cli/run.h"},
      {"base/x.cpp", "#include <openssl/cms.h>", "base/x.cpp includes openssl/cms.h"},
      {"base/x.cpp", "#include <nettle/sha1.h>", "nettle is included by 2 files"},
      {"app/x.cpp", "#include \"late/zip.h\"", "app/x.cpp includes late/zip.h"},
      {"app/x.cpp", "#include <openssl/cms.h>", "app/x.cpp includes openssl/cms.h"},
      {"seal/x.cpp", "#include \"archive/archive.h\"", "seal/x.cpp includes archive/archive.h"},
      {"base/y.cpp", "#include <nlohmann/json.hpp>", "nlohmann is included by 2 files"},
      {"checks/x.cpp", "#include <fonts/fonts.h>", "checks/x.cpp includes fonts/fonts.h"},
      {"spare/x.cpp", "#include \"base/text.h\"", "spare/x.cpp: an unknown layer"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.line);
    const auto found = with_planted(row.file, row.line);
    CHECK(found.size() > before);
    CHECK(std::find(found.begin(), found.end(), row.said) != found.end());
  }
  CHECK(with_planted("base/x.h", "// #include \"record/job.h\"").size() == before);
  CHECK(with_planted("seal/x.cpp", "#include <openssl/cms.h>").size() == before);
  CHECK(with_planted("checks/x.h", "#include \"record/job.h\"").size() == before);
}

}  // namespace ohmleaf
