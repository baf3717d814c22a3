#include "app/extract.h"

#include <algorithm>
#include <set>

#include "base/toml.h"

namespace ohmleaf::app {
namespace {

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    switch (c) {
      case '"': out += "\\\""; break;
      case '\\': out += "\\\\"; break;
      case '\n': out += "\\n"; break;
      case '\t': out += "\\t"; break;
      case '\r': out += "\\r"; break;
      default: out += c;
    }
  }
  return out + "\"";
}

bool bare(std::string_view key) {
  return !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           c == '-' || c == '_';
  });
}

std::string key_text(std::string_view key) { return bare(key) ? std::string(key) : toml_text(key); }

/// One value on one line.
std::string inline_value(const TomlNode& node) {
  if (node.kind == TomlKind::string) return toml_text(node.text);
  if (!node.is_array() && !node.is_table()) return node.text;
  std::string out = node.is_array() ? "[" : "{";
  for (std::size_t i = 0; i < node.children.size(); ++i) {
    if (i > 0) out += ",";
    out += " ";
    if (node.is_table()) out += key_text(node.children[i].key) + " = ";
    out += inline_value(node.children[i]);
  }
  return out + (node.children.empty() ? "" : " ") + (node.is_array() ? "]" : "}");
}

void write_table(std::string& out, const std::string& name, const TomlNode& table) {
  out += "\n[" + name + "]\n";
  for (const TomlNode& child : table.children)
    out += key_text(child.key) + " = " + inline_value(child) + "\n";
}

/// Ids that the job names, in every field that may hold one.
struct Used {
  std::set<std::string> people, instruments, items;
  bool every_instrument = false;

  void text(std::set<std::string>& into, const record::Text& t) {
    if (t) into.insert(*t);
  }
};

Used used_by(const record::Job& job) {
  Used u;
  u.text(u.people, job.person);
  u.text(u.people, job.isolation.by);
  using record::Signing;
  for (const auto role :
       {&Signing::design, &Signing::construction, &Signing::inspection, &Signing::authorised})
    u.text(u.people, job.signing.*role);
  u.text(u.instruments, job.isolation.proving_unit);
  u.text(u.instruments, job.isolation.indicator);
  u.every_instrument = job.instruments.empty();
  for (const auto& t : job.instruments) u.text(u.instruments, t);
  for (const auto& c : job.confirmations) u.text(u.people, c.by);
  for (const auto& d : job.departures) u.text(u.people, d.by);
  for (const auto& c : job.circuits) {
    u.text(u.instruments, c.dead.instrument);
    u.text(u.instruments, c.live.instrument);
    for (const auto& a : c.accessories) u.text(u.items, a.item);
  }
  for (const auto& c : job.controls) u.text(u.items, c.item);
  return u;
}

void write_group(std::string& out, const TomlNode& root, const char* name,
                 const std::set<std::string>& wanted, bool all) {
  const TomlNode* group = root.find(name);
  if (group == nullptr) return;
  for (const TomlNode& entry : group->children)
    if (all || wanted.count(entry.key) > 0)
      write_table(out, std::string(name) + "." + key_text(entry.key), entry);
}

}  // namespace

std::string installer_extract(const Workspace& workspace, Sources& sources, Diagnostics& out) {
  const auto root = parse_toml(sources, workspace.installer.source, out);
  if (!root) return {};
  const Used used = used_by(workspace.job);
  std::string text =
      "# The part of the installer's profile that this certificate rests on.\nformat = 1\n";
  for (const char* name : {"firm", "certificate", "look"})
    if (const TomlNode* t = root->find(name); t != nullptr && t->is_table())
      write_table(text, name, *t);
  write_group(text, *root, "person", used.people, false);
  write_group(text, *root, "instrument", used.instruments, used.every_instrument);
  std::set<std::string> classes;
  for (const std::string& id : used.items)
    if (const auto* item = workspace.installer.item(id); item && item->item_class)
      classes.insert(*item->item_class);
  write_group(text, *root, "class", classes, false);
  write_group(text, *root, "accessory", used.items, false);
  return text;
}

}  // namespace ohmleaf::app
