#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"
#include "layout/form_reader.h"
#include "layout/model.h"
#include "layout/word_rules.h"

namespace ohmleaf::layout {
namespace {

constexpr int kRepeatsDeep = 2;

std::string file_stem(std::string_view name) {
  if (const auto slash = name.find_last_of('/'); slash != std::string_view::npos)
    name.remove_prefix(slash + 1);
  if (name.ends_with(".toml")) name.remove_suffix(5);
  return std::string(name);
}

/// The plain words of a text, for the name of a block in messages.
std::string literal(const Runs& runs) {
  std::string out;
  for (const Run& r : runs) out += r.text;
  return out;
}

bool known_format(const TomlNode& root, Diagnostics& out) {
  const TomlNode* format = root.find("format");
  if (format && format->text == "1" && format->kind == TomlKind::integer) return true;
  out.error("form-format", format ? format->span : root.span,
            format ? "this form is of a format that is not known here"
                   : "the form does not say its format",
            {"Write format = 1 on the first line."});
  return false;
}

}  // namespace

std::span<const EngineWord> engine_words() {
  static constexpr std::array kWords{
      EngineWord{"page", "page"},
      EngineWord{"of", "of"},
      EngineWord{"empty", "not recorded"},
      EngineWord{"draft", "DRAFT – NOT ISSUED"},
      EngineWord{"draft_mark", "DRAFT"},
      EngineWord{"redacted", "REDACTED COPY OF CERTIFICATE {}"},
      EngineWord{"no_certificate", "WORKING PAPER – NO CERTIFICATE"},
      EngineWord{"limit", "limit"},
      EngineWord{"also", "also"},
      EngineWord{"used", "uses {} % of the limit"},
      EngineWord{"continued", "continued"},
      EngineWord{"yes", "yes"},
      EngineWord{"no", "no"},
      EngineWord{"tick", "tick box"},
      EngineWord{"write_in", "box to write in"},
      EngineWord{"logo", "logo"},
      EngineWord{"signature", "signature"},
      EngineWord{"signed",
                 "Signed electronically with the certificate of {}. A PDF reader that checks "
                 "signatures shows whether the file has changed since."},
      EngineWord{"months",
                 "January February March April May June July August September October "
                 "November December"},
      EngineWord{"pass", "pass"},
      EngineWord{"borderline", "borderline"},
      EngineWord{"doubtful", "doubtful"},
      EngineWord{"missing", "missing"},
      EngineWord{"fail", "fail"},
      EngineWord{"note", "note"},
      EngineWord{"not applicable", "not applicable"},
  };
  return kWords;
}

bool FormReader::block_kind(const TomlNode& node, Block& b) {
  const TomlNode* type = node.find("type");
  if (!type) {
    wrong("form-block", node, "the block does not say its type", "Write type = \"paragraph\".");
    return false;
  }
  const std::size_t before = out_.all().size();
  b.kind = choice(*type, kBlockWords, BlockKind::paragraph);
  if (out_.all().size() != before) return false;
  only(node, "the block \"" + type->text + "\"", part_of(b.kind));
  b.name = "the " + type->text + " at line " + line_of(node.span);
  return true;
}

void FormReader::block_content(const TomlNode& node, Block& b, int repeats) {
  for (const TomlNode& c : node.children) {
    if (c.key == "text") b.text = runs(c);
    if (c.key == "caption") b.caption = runs(c);
    if (c.key == "reason") b.reason = runs(c);
    if (c.key == "mark") b.mark = bind(c, Want::verdict);
    if (c.key == "outcome") b.source = bind(c, Want::verdict);
    if (c.key == "image") b.source = bind(c, Want::image);
    if (c.key == "words") b.words = words(c);
    if (c.key == "height") b.height = millimetres(c, 200);
    if (c.key == "step") b.step = choice(c, kStepWords, Step::body);
    if (c.key == "tone") b.tone = choice(c, kToneWords, Tone::normal);
    if (c.key == "align") b.align = choice(c, kAlignWords, Align::left);
    if (c.key == "surround") b.surround = choice(c, kSurroundWords, Surround::none);
    if (c.key == "fields" && c.is_array())
      for (const TomlNode& f : c.children) b.fields.push_back(field(f));
    if (c.key == "columns" && c.is_array())
      for (const TomlNode& f : c.children) b.columns.push_back(column(f));
    if (c.key == "block" && c.is_array())
      for (const TomlNode& f : c.children) b.blocks.push_back(block(f, repeats));
    if ((c.key == "fields" || c.key == "columns" || c.key == "block") && !c.is_array())
      wrong("form-type", c, "\"" + c.key + "\" is a list");
  }
  b.level = whole(node, "level", 1, 3, 2);
  b.across = whole(node, "across", 1, 6, 2);
  b.keep_together = flag(node, "keep_together", false);
  b.keep_with_next = flag(node, "keep_with_next", false);
  b.indent = flag(node, "indent", false);
  b.bookmark = flag(node, "bookmark", true);
  b.bars = flag(node, "bars", true);
}

Block FormReader::block(const TomlNode& node, int repeats) {
  Block b;
  b.span = node.span;
  if (!node.is_table()) {
    wrong("form-block", node, "a block is a table", "Write [[block]] and its keys below it.");
    return b;
  }
  if (!block_kind(node, b)) return b;
  if (const TomlNode* when = node.find("when")) b.when = bind(*when, Want::condition);
  bool entered = false;
  if (const TomlNode* repeat = node.find("repeat")) {
    if (repeats >= kRepeatsDeep) {
      wrong("form-repeat", *repeat, "this is a repeat inside a repeat inside a repeat",
            "At most two stand inside one another.");
    } else if ((b.repeat = bind(*repeat, Want::list))) {
      scopes_.push_back(shape_of(*b.repeat));
      entered = true;
    } else {
      return b;  // what stands inside cannot be checked
    }
  }
  block_content(node, b, entered ? repeats + 1 : repeats);
  if (entered) scopes_.pop_back();
  if (b.kind == BlockKind::table && (b.columns.empty() || !b.repeat))
    wrong("form-table", node, "a table needs \"repeat\" and \"columns\"");
  const std::string words = literal(b.caption.empty() ? b.text : b.caption);
  if (!words.empty() && words.size() < 60) b.name += " (\"" + words + "\")";
  return b;
}

void FormReader::page(const TomlNode& node, Form& form) {
  only(node, "[page]", FormPart::page);
  PageSetup& p = form.page;
  for (const TomlNode& c : node.children) {
    if (c.key == "orientation") p.landscape = choice(c, kOrientationWords, false);
    if (c.key == "header_left") p.header_left = runs(c);
    if (c.key == "header_middle") p.header_middle = runs(c);
    if (c.key == "footer_left") p.footer_left = runs(c);
    if (c.key == "footer_right") p.footer_right = runs(c);
    if (c.key != "margins") continue;
    if (!c.is_array() || c.children.size() != 4) {
      wrong("form-margins", c, "margins are four numbers of millimetres: top, right, bottom, left");
      continue;
    }
    p.top = millimetres(c.children[0], 60);
    p.right = millimetres(c.children[1], 60);
    p.bottom = millimetres(c.children[2], 60);
    p.left = millimetres(c.children[3], 60);
    if (std::min({p.top, p.right, p.bottom, p.left}) < 14_pt)
      wrong("form-margins", c, "a margin is narrower than 5 mm, which printers cut off");
  }
}

std::optional<Form> FormReader::read(const Theme& base) {
  const auto root = parse_toml(sources_, source_, out_);
  if (!root) return std::nullopt;
  Diagnostics* const sink = &out_;
  const std::size_t before = sink->all().size();
  Form form;
  form.source = source_;
  form.theme = base;
  form.name = file_stem(sources_.get(source_).name());
  form.page.top = 40_pt;
  form.page.right = form.page.left = 48_pt;
  form.page.bottom = 36_pt;
  if (!known_format(*root, out_)) return std::nullopt;
  only(*root, "a form", FormPart::form);
  for (const TomlNode& c : root->children) {
    if (c.key == "title") form.title = text(c);
    if (c.key == "language") form.language = text(c);
    if (c.key == "page") page(c, form);
    if (c.key == "theme") read_theme(c, form.theme, out_);
    if (c.key == "words") form.words = words(c);
    if (c.key == "block" && !c.is_array())
      wrong("form-type", c, "\"block\" is a list", "Write [[block]] and its keys below it.");
    if (c.key == "block" && c.is_array())
      for (const TomlNode& b : c.children) form.blocks.push_back(block(b, 0));
  }
  form.certificate = flag(*root, "certificate", true);
  if (form.title.empty()) wrong("form-title", *root, "the form has no title");
  if (const TomlNode* w = root->find("words")) {
    if (const auto fault = fault_in_engine_words(form.words); fault && fault->id != "alike")
      wrong("form-words-" + fault->id, *w->find(fault->key), fault->what, fault->hint);
    std::vector<std::string_view> keys;
    for (const EngineWord& e : engine_words()) keys.push_back(e.key);
    for (const TomlNode& c : w->children)
      if (std::find(keys.begin(), keys.end(), c.key) == keys.end()) {
        const auto near = nearest(c.key, keys);
        out_.error("form-unknown-key", c.key_span,
                   fmt::format("[words] has no key \"{}\"", visible(c.key)),
                   near ? std::vector<std::string>{"Did you mean \"" + *near + "\"?"}
                        : std::vector<std::string>{});
      }
  }
  for (std::size_t i = before; i < out_.all().size(); ++i)
    if (out_.all()[i].severity == Severity::error) return std::nullopt;
  form.bound = std::move(bound_);
  return form;
}

std::optional<Form> load_form(const Sources& sources, SourceId source, Diagnostics& out,
                              const Theme& base) {
  return FormReader(sources, source, document_shape(), out).read(base);
}

}  // namespace ohmleaf::layout
