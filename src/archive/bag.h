#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "archive/package.h"
#include "archive/store.h"

/// BagIt, RFC 8493: a package that `sha512sum -c` alone can check.
namespace ohmleaf::archive {

inline constexpr std::string_view kBagDeclaration =
    "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";
inline constexpr std::string_view kManifest = "manifest-sha512.txt";
inline constexpr std::string_view kTagManifest = "tagmanifest-sha512.txt";

struct ManifestLine {
  std::string digest, name;
};

/// Two spaces, as sha512sum writes them.
std::string manifest_text(std::vector<ManifestLine> lines);
std::optional<std::vector<ManifestLine>> parse_manifest(std::string_view text);

/// Writes a file into its folders, which are made where they are not there.
bool write_deep(int folder, const std::string& name, const std::string& bytes, FsError& error);

/// Sees each payload file once, with its name below data/. False stops the check, with `error`.
using OnPayload =
    std::function<bool(const std::string& name, const std::string& bytes, FsError& error)>;

/// Every file is listed, every listed file is there, every digest holds.
bool check_bag(Package& package, const OnPayload& on_payload, FsError& error);

}  // namespace ohmleaf::archive
