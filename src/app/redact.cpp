#include "app/redact.h"

#include <algorithm>
#include <set>
#include <vector>

#include "app/toml_write.h"
#include "base/text.h"
#include "base/toml.h"

namespace ohmleaf::app {
namespace {

constexpr const char* kRedacted = "redacted";
constexpr std::size_t kShortestWord = 4;

bool is_letter(char c) {
  const auto u = static_cast<unsigned char>(c);
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || u >= 0x80;
}

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words(1);
  for (const char c : text) {
    if (is_letter(c))
      words.back() += c;
    else if (!words.back().empty())
      words.emplace_back();
  }
  std::erase_if(words, [](const std::string& w) { return w.size() < kShortestWord; });
  return words;
}

/// What may not stand anywhere: name and contact whole, then the telling words of the name.
std::vector<std::string> secrets_of(const TomlNode& root) {
  std::set<std::string> address;
  std::vector<std::string> secrets;
  if (const TomlNode* premises = root.find("premises"))
    for (const std::string& w : words_of(premises->text)) address.insert(ascii_lower(w));
  for (const char* key : {"client", "client_contact"}) {
    const TomlNode* node = root.find(key);
    if (node == nullptr || node->text.size() < kShortestWord) continue;
    secrets.push_back(node->text);
    for (const std::string& w : words_of(node->text))
      if (address.count(ascii_lower(w)) == 0) secrets.push_back(w);
  }
  std::stable_sort(secrets.begin(), secrets.end(),
                   [](const std::string& a, const std::string& b) { return a.size() > b.size(); });
  return secrets;
}

/// Whole words only, whatever their case.
void black_out(std::string& text, const std::string& secret) {
  const std::string wanted = ascii_lower(secret);
  std::size_t at = 0;
  while ((at = ascii_lower(text).find(wanted, at)) != std::string::npos) {
    const std::size_t end = at + wanted.size();
    const bool whole = (at == 0 || !is_letter(text[at - 1]) || !is_letter(text[at])) &&
                       (end == text.size() || !is_letter(text[end]) || !is_letter(text[end - 1]));
    if (!whole) {
      ++at;
      continue;
    }
    text.replace(at, wanted.size(), "[redacted]");
    at += 10;
  }
}

void black_out_all(TomlNode& node, const std::vector<std::string>& secrets) {
  if (node.kind == TomlKind::string)
    for (const std::string& secret : secrets) black_out(node.text, secret);
  for (TomlNode& child : node.children)
    if (child.key != "premises") black_out_all(child, secrets);
}

void set_text(TomlNode& table, std::string_view key) {
  for (TomlNode& child : table.children)
    if (child.key == key && child.kind == TomlKind::string) child.text = kRedacted;
}

}  // namespace

std::optional<std::string> redacted_job(const std::string& job_toml, Diagnostics& out) {
  Sources sources;
  auto root = parse_toml(sources, sources.add("job.toml", job_toml), out);
  if (!root) return std::nullopt;
  const std::vector<std::string> secrets = secrets_of(*root);
  std::erase_if(root->children, [](const TomlNode& n) { return n.key == "client_contact"; });
  black_out_all(*root, secrets);
  set_text(*root, "client");
  for (TomlNode& child : root->children)
    if (child.key == "limitation")
      for (TomlNode& one : child.children) set_text(one, "agreed_with");
  return toml_document(*root);
}

}  // namespace ohmleaf::app
