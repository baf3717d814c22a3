#include "record/support.h"

namespace ohmleaf::record {
namespace {

/// Every member of the view must be foreseen by the shape, with its kind and unit.
void check_within(const View& view, const Shape& shape, const std::string& path) {
  CAPTURE(path);
  CHECK(!shape.type.empty());
  if (view.kind == View::Kind::text && shape.kind == View::Kind::flag) {
    CHECK(path.starts_with("inspection."));  // a flag, or the reason why not
  } else {
    CHECK(view.kind == shape.kind);
  }
  if (!view.unit.empty()) CHECK(view.unit == shape.unit);
  for (const auto& [name, member] : view.members) {
    const Shape* known = shape.find(name);
    REQUIRE_MESSAGE(known != nullptr, path << name);
    check_within(member, *known, path + name + ".");
  }
  for (const View& item : view.items)
    if (item.kind == View::Kind::group)
      for (const auto& [name, member] : item.members) {
        const Shape* known = shape.find(name);
        REQUIRE_MESSAGE(known != nullptr, path << name);
        check_within(member, *known, path + name + ".");
      }
}

class Counting : public View::Later {
 public:
  explicit Counting(int& made) : made_(made) {}
  std::size_t count() const override { return 2; }
  std::string_view name(std::size_t i) const override { return i == 0 ? "one" : "two"; }
  View make(std::size_t i) const override {
    ++made_;
    return View::of_text(i == 0 ? "1" : "2");
  }

 private:
  int& made_;
};

void check_documented(const Shape& shape, const std::string& path, std::size_t& count) {
  for (const Shape& m : shape.members) {
    CAPTURE(path + m.name);
    ++count;
    CHECK(!m.name.empty());
    CHECK(!m.type.empty());
    CHECK(!m.help.empty());
    CHECK(!m.help.ends_with('.'));
    check_documented(m, path + m.name + ".", count);
  }
}

}  // namespace

TEST_CASE("every key of a job and of an installer is described") {
  std::size_t count = 0;
  check_documented(job_shape(), "", count);
  check_documented(installer_shape(), "installer.", count);
  CHECK(count > 220);
}

TEST_CASE("what a view shows, its shape foresees") {
  for (const std::string& name : kSampleNames) {
    CAPTURE(name);
    const Run run = run_job(slurp(kSamples / name / "job.toml"), name);
    REQUIRE(run.job);
    check_within(view_of(*run.job), job_shape(), "");
  }
  const Run firm = run_installer(slurp(kSamples / "installer.toml"));
  REQUIRE(firm.installer);
  check_within(view_of(*firm.installer), installer_shape(), "");
}

TEST_CASE("a view keeps what was written, with its unit and its place") {
  const Run run = run_job(slurp(kSamples / "sewing-workshop" / "job.toml"));
  REQUIRE(run.job);
  const View view = view_of(*run.job);
  const auto text = [&](std::string_view path) {
    const View* v = view.at(path);
    return v == nullptr ? std::string("(nothing)")
                        : v->text + (v->unit.empty() ? "" : " " + v->unit);
  };
  CHECK(text("format") == "1");
  CHECK(text("kind") == "minor works");
  CHECK(text("date") == "2026-11-20");
  CHECK(text("supply.ze") == "0.21 Ω");
  CHECK(text("supply.pfc") == "1.3 kA");
  CHECK(text("supply.neutral") == "25 mm²");
  CHECK(text("supply.main_fuse") == "BS 88-3, 80 A");
  CHECK(text("supply.main_fuse.rating") == "80 A");
  CHECK(text("bonding.oil") == "N/A: no oil in the premises");
  CHECK(text("isolation.locked") == "true");
  CHECK(text("isolation.proved_dead") == "2026-11-20T09:12:00");
  CHECK(text("inspection.undervoltage") == "N/A: nothing that could harm by starting again");
  CHECK(text("supply.ra") == "(nothing)");
  CHECK(text("departure") == "(nothing)");
  const View* circuits = view.find("circuit");
  REQUIRE(circuits != nullptr);
  REQUIRE(circuits->items.size() == 2);
  const View* live_live = circuits->items[0].at("dead.insulation.live_live");
  REQUIRE(live_live != nullptr);
  CHECK(live_live->text == ">999");
  CHECK(live_live->unit == "MΩ");
  CHECK(run.sources.slice(live_live->span) == "\">999\"");
}

TEST_CASE("a path steps into lists, choices show their words, own fields take any name") {
  REQUIRE(job_shape().at("circuit.dead.R1R2"));
  CHECK(job_shape().at("circuit.dead.R1R2")->unit == "Ω");
  CHECK(job_shape().at("circuit.dead.r1r2") == nullptr);
  REQUIRE(job_shape().at("circuit.type"));
  CHECK(job_shape().at("circuit.type")->words ==
        std::vector<std::string>{"ring final", "radial", "spur", "distribution"});
  CHECK(job_shape().at("circuit.type")->required);
  CHECK(job_shape().at("circuit.device.breaking")->unit == "kA");
  CHECK(job_shape().at("extra.anything_at_all") != nullptr);
  CHECK(job_shape().at("supply.anything_at_all") == nullptr);
  CHECK(installer_shape().at("person.id") != nullptr);
  CHECK(installer_shape().at("instrument.calibration_due")->type == "date");
}

TEST_CASE("every key of the shape can be read") {
  // A key that the table names but the reader does not know would be "unknown".
  const auto known = [](const Shape& table, const std::string& heading, auto&& self) -> void {
    for (const Shape& m : table.members) {
      if (m.name == "*" || heading.find("private") != std::string::npos) continue;
      const std::string path = heading.empty() ? m.name : heading + "." + m.name;
      CAPTURE(path);
      const bool list = m.kind == View::Kind::list && !m.members.empty();
      const bool group = m.kind == View::Kind::group;
      std::string text = "format = 1\n";
      if (list)
        text += "[[" + path + "]]\n";
      else if (group)
        text += "[" + path + "]\n";
      else if (heading.empty())
        text += m.name == "format" ? "" : m.name + " = []\n";
      else
        text += "[[" + heading + "]]\n" + m.name + " = []\n";
      CHECK(run_job(text).all().find("\"" + m.name + "\" is not known") == std::string::npos);
      if (list || group) self(m, path, self);
    }
  };
  known(job_shape(), "", known);
  CHECK(run_job("format = 1\nnothing = 1\n").all().find("\"nothing\" is not known") !=
        std::string::npos);
}

TEST_CASE("views by hand") {
  View view = View::group();
  CHECK(!view.present());
  view.set("a", View::of_flag(false));
  CHECK(view.present());
  CHECK(!view.find("a")->truthy());
  view.set("a", View::of_flag(true));
  CHECK(view.members.size() == 1);
  CHECK(view.at("a")->truthy());
  view.set("b", View::group()).set("c", View::of_text("x", "Ω"));
  CHECK(view.at("b.c")->text == "x");
  CHECK(view.at("b.d") == nullptr);
  CHECK(view.at("") == nullptr);
  CHECK(view.at("b.c.d") == nullptr);
  CHECK(!View::of_text("").present());
  CHECK(!View::list().present());
}

TEST_CASE("a member is made when it is first asked for, an item each time") {
  int made = 0;
  const View group = View::group(std::make_shared<Counting>(made));
  CHECK(made == 0);
  CHECK(group.find("three") == nullptr);
  CHECK(made == 0);
  REQUIRE(group.find("two") != nullptr);
  CHECK(group.find("two")->text == "2");
  CHECK(group.at("two") == group.find("two"));
  CHECK(made == 1);
  CHECK(group.present());

  made = 0;
  View list = View::list(std::make_shared<Counting>(made));
  list.items.push_back(View::of_text("0"));
  CHECK(list.present());
  CHECK(made == 0);
  std::string seen;
  list.each([&](const View& item) { seen += item.text; });
  list.each([&](const View& item) { seen += item.text; });
  CHECK(seen == "012012");
  CHECK(made == 4);

  const View whole = list.whole();
  made = 0;
  REQUIRE(whole.items.size() == 3);
  CHECK(whole.items[2].text == "2");
  CHECK(group.whole().members.size() == 2);
  CHECK(group.whole().find("one")->text == "1");
}

}  // namespace ohmleaf::record
