// One value put into a TOML text that somebody wrote. The first byte chooses: a path, a value and a
// text, each on a line of its own, or an answer typed into a short job, as `note` does it.
#include <map>

#include "app/answers.h"
#include "base/toml.h"
#include "base/toml_edit.h"
#include "fuzz/job.h"

using namespace ohmleaf;

namespace {

using Values = std::map<std::string, std::string>;

constexpr char kStep = '\x01';  // which no key has in it

/// Every value with its path, written out; tables that hold something are their members.
void gather(const TomlNode& node, const std::string& path, Values& out) {
  if (node.children.empty() && !path.empty()) out[path] = node.text;
  for (std::size_t i = 0; i < node.children.size(); ++i)
    gather(node.children[i],
           path + kStep + (node.is_array() ? std::to_string(i) : node.children[i].key), out);
}

bool within(const std::string& path, const std::string& outer) {
  return path == outer || path.starts_with(outer + kStep);
}

std::optional<TomlNode> tree_of(const std::string& text) {
  Sources sources;
  Diagnostics found;
  return parse_toml(sources, sources.add("job.toml", text), found);
}

const TomlNode* at(const TomlNode& root, const TomlPath& path) {
  const TomlNode* here = &root;
  for (const TomlStep& step : path) {
    here = here->is_table() ? here->find(step.key) : nullptr;
    if (here != nullptr && step.index >= 0) {
      const auto index = static_cast<std::size_t>(step.index);
      here = here->is_array() && index < here->children.size() ? &here->children[index] : nullptr;
    }
    if (here == nullptr) return nullptr;
  }
  return here;
}

std::string gathered_path(const TomlPath& path) {
  std::string out;
  for (const TomlStep& step : path)
    out += kStep + step.key + (step.index >= 0 ? kStep + std::to_string(step.index) : "");
  return out;
}

/// The path has the value, and no other value is another one.
void hold_values(const TomlNode& before, const TomlNode& after, const TomlPath& path,
                 const std::string& value) {
  const auto holder = tree_of("v = " + value + "\n");
  const TomlNode* there = at(after, path);
  fuzz::promise(holder && there != nullptr, "after an edit there is a value at its place");
  Values wanted, got, old, now;
  gather(*holder->find("v"), "v", wanted);
  gather(*there, "v", got);
  fuzz::promise(wanted == got && there->kind == holder->find("v")->kind,
                "after an edit the value is the new one");
  gather(before, "", old);
  gather(after, "", now);
  const std::string own = gathered_path(path);
  std::erase_if(now, [&](const auto& v) { return within(v.first, own); });
  for (const auto& [place, text] : now)
    fuzz::promise(old.contains(place) && old.at(place) == text, "an edit changes one value alone");
  std::erase_if(old, [&](const auto& v) {  // an empty table that got a member is none any more
    return within(v.first, own) || within(own, v.first);
  });
  for (const auto& [place, text] : old)
    fuzz::promise(now.contains(place), "an edit takes nothing away");
}

/// Without their ends, of which the last line may get one.
std::vector<std::string_view> lines_of(const std::string& text) {
  auto lines = split(text, '\n');
  for (std::string_view& line : lines)
    if (line.ends_with('\r')) line.remove_suffix(1);
  return lines;
}

/// All lines but the one that is changed are there as they were, comments and order too.
void hold_lines(const std::string& before, const std::string& after, const TomlNode* old_value,
                const std::string& value) {
  if (old_value != nullptr) {
    const Span span = old_value->span;
    fuzz::promise(after == before.substr(0, span.begin) + value + before.substr(span.end),
                  "a value that is replaced is all that changes");
    return;
  }
  const auto old = lines_of(before), now = lines_of(after);
  std::size_t above = 0, below = 0;
  while (above < old.size() && above < now.size() && old[above] == now[above]) ++above;
  while (below < old.size() - above && below < now.size() - above &&
         old[old.size() - 1 - below] == now[now.size() - 1 - below])
    ++below;
  fuzz::promise(old.size() - above - below <= 1, "an edit touches one line at most");
  fuzz::promise(now.size() - above - below <= 4, "an edit adds a few lines at most");
}

void hold_edit(const std::string& before, const TomlPath& path, const std::string& value,
               const std::string& after) {
  const auto old = tree_of(before), now = tree_of(after);
  fuzz::promise(old && now, "after an edit the file parses");
  hold_values(*old, *now, path, value);
  hold_lines(before, after, at(*old, path), value);
}

/// Where a job takes one answer, of each list the first element.
void gather_places(const record::Shape& shape, const std::string& path,
                   std::vector<std::pair<std::string, const record::Shape*>>& out) {
  for (const record::Shape& member : shape.members) {
    const std::string name = path.empty() ? member.name : path + "." + member.name;
    const bool list = member.kind == record::View::Kind::list && !member.members.empty();
    if (member.name == "*") continue;
    if (member.members.empty()) out.emplace_back(name, &member);
    gather_places(member, list ? name + "[0]" : name, out);
  }
}

void type_in(unsigned choice, std::string_view typed) {
  static const std::string text = fuzz::file("tests/checks/sound/tt-rcbo.toml");
  static const auto places = [] {
    std::vector<std::pair<std::string, const record::Shape*>> all;
    gather_places(record::job_shape(), "", all);
    return all;
  }();
  const auto& [place, shape] = places[choice % places.size()];
  static const DateTime now = *DateTime::parse("2026-11-20T09:12:00");
  const std::string value = app::toml_answer(*shape, typed, now, now.date);
  const TomlPath path = toml_path(place);
  const auto edited = edit_toml(text, path, value, app::job_key_order);
  if (!edited) return;
  hold_edit(text, path, value, *edited);
  Sources sources;
  Diagnostics found;
  fuzz::read_job(*edited, sources, found);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 3) return 0;
  if (data[0] % 2 == 1) {
    const std::string_view typed = fuzz::text_of(data + 3, size - 3);
    type_in(data[1] + 256u * data[2], typed.substr(0, typed.find('\n')));
    return 0;
  }
  std::string_view rest = fuzz::text_of(data + 1, size - 1);
  const auto line = [&rest] {
    const std::string_view all = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(rest.size(), all.size() + 1));
    return all;
  };
  const TomlPath path = toml_path(line());
  const std::string value(line()), text(rest);
  if (path.empty()) return 0;
  if (const auto edited = edit_toml(text, path, value)) hold_edit(text, path, value, *edited);
  return 0;
}
