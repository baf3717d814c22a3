#include "app/extract.h"

#include <algorithm>
#include <set>

#include "app/toml_write.h"
#include "base/toml.h"

namespace ohmleaf::app {
namespace {

void write_table(std::string& out, const std::string& name, const TomlNode& table) {
  out += "\n[" + name + "]\n";
  for (const TomlNode& child : table.children)
    out += toml_key(child.key) + " = " + toml_value(child) + "\n";
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
      write_table(out, std::string(name) + "." + toml_key(entry.key), entry);
}

}  // namespace

std::string installer_extract(const Workspace& workspace, Sources& sources, Diagnostics& out) {
  std::optional<TomlNode> parsed;
  const TomlNode* root = workspace.installer_tree.get();
  if (root == nullptr) {
    parsed = parse_toml(sources, workspace.installer.source, out);
    if (!parsed) return {};
    root = &*parsed;
  }
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
