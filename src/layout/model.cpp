#include "layout/model.h"

#include <algorithm>
#include <array>

#include "layout/model_rows.h"
#include "record/read.h"

namespace ohmleaf::layout {
namespace model {
namespace {

using checks::Verdict;

const record::Person* signer(const Context& x) {
  return x.job.person ? x.installer.person(*x.job.person) : nullptr;
}

View person_text(const Context& x, record::Text record::Person::*member) {
  const record::Person* p = signer(x);
  return p ? text_view(p->*member) : View{};
}

View issued_view(const Context& x) {
  if (x.facts.issued.empty()) return {};
  View v = View::of_text(x.facts.issued);
  v.kind = View::Kind::date;
  return v;
}

View image_view(int index) {
  return index < 0 ? View{} : View::of_text(std::to_string(index));
}

bool is(const Context& x, record::JobKind kind) {
  return x.job.kind && *x.job.kind == kind;
}

View kind_view(const Context& x) {
  if (!x.job.kind) return {};
  switch (*x.job.kind) {
    case record::JobKind::minor_works:
      return View::of_text("minor works");
    case record::JobKind::installation:
      return View::of_text("installation");
    case record::JobKind::condition_report:
      return View::of_text("condition report");
  }
  return {};
}

bool blocked(const Context& x) {
  return !x.found.tally().issuable;
}
/// Worst first.
View open_findings(const Context& x) {
  return findings_view(x, {Verdict::fail, Verdict::missing, Verdict::doubtful, Verdict::borderline});
}

bool borderline(const Context& x) {
  return !blocked(x) && x.report.verdict >= Verdict::borderline;
}

#define GET(expression) [](const Context& x, const Context&) -> View { return expression; }
using R = Row<Context>;

const std::array kIssue{
    R{"number", Type::own, "the certificate's number", GET(text_view(x.facts.number))},
    R{"revision", Type::text, "1 for the first issue",
      GET(View::of_text(std::to_string(x.facts.revision)))},
    R{"revised", Type::flag, "it is a later revision", GET(View::of_flag(x.facts.revision > 1))},
    R{"replaces", Type::text, "what it replaces", GET(text_view(x.facts.replaces))},
    R{"chain_head", Type::own, "head of the chain of issues", GET(text_view(x.facts.chain_head))},
    R{"issued", Type::date, "date of issue", GET(issued_view(x))},
    R{"draft", Type::flag, "not issued", GET(View::of_flag(x.facts.draft))},
    R{"redacted", Type::flag, "a copy without name and contact",
      GET(View::of_flag(x.facts.redacted))},
    R{"final", Type::flag, "issued", GET(View::of_flag(!x.facts.draft))},
    R{"signed_by", Type::own, "whom the electronic signature names",
      GET(text_view(x.facts.signed_by))},
    R{"program", Type::own, "the program and its version", GET(text_view(x.facts.program))},
};

const std::array kKind{
    R{"name", Type::text, "minor works, installation, condition report", GET(kind_view(x))},
    R{"work", Type::flag, "work was done: a minor works or installation certificate",
      GET(View::of_flag(!is(x, record::JobKind::condition_report)))},
    R{"minor_works", Type::flag, "a minor works certificate",
      GET(View::of_flag(is(x, record::JobKind::minor_works)))},
    R{"installation", Type::flag, "an installation certificate",
      GET(View::of_flag(is(x, record::JobKind::installation)))},
    R{"condition_report", Type::flag, "a condition report",
      GET(View::of_flag(is(x, record::JobKind::condition_report)))},
};

const std::array kPerson{
    R{"name", Type::own, "who tested and signs", GET(person_text(x, &record::Person::name))},
    R{"role", Type::own, "in which capacity", GET(person_text(x, &record::Person::role))},
};

const std::array kImages{
    R{"logo", Type::text, "the installer's logo", GET(image_view(x.facts.logo_image))},
    R{"signature", Type::text, "the signature", GET(image_view(x.facts.signature_image))},
};

const std::array kVerdict{
    R{"name", Type::text, "the worst verdict of all",
      GET(View::of_text(std::string(name(x.report.verdict))))},
    R{"clear", Type::flag, "everything is in order",
      GET(View::of_flag(!blocked(x) && !borderline(x)))},
    R{"borderline", Type::flag, "nothing blocks, something is borderline",
      GET(View::of_flag(borderline(x)))},
    R{"blocked", Type::flag, "something blocks an issue", GET(View::of_flag(blocked(x)))},
};

const std::array kNotification{
    R{"needed", Type::flag, "the work is notifiable", GET(flag_view(x.job.notification.needed))},
    R{"route", Type::own, "by which route", GET(text_view(x.job.notification.route))},
    R{"reference", Type::own, "reference", GET(text_view(x.job.notification.reference))},
    R{"date", Type::date, "date of notification", GET(date_view(x.job.notification.date))},
};

#define NONE(list) GET(View::of_flag((list).empty()))
const std::array kNone{
    R{"circuits", Type::flag, "there is no circuit", NONE(x.job.circuits)},
    R{"departures", Type::flag, "there is no departure", NONE(x.job.departures)},
    R{"limitations", Type::flag, "there is no limitation", NONE(x.job.limitations)},
    R{"observations", Type::flag, "there is no observation", NONE(x.job.observations)},
    R{"dangers", Type::flag, "no danger is recorded", NONE(x.job.dangers)},
    R{"inspection", Type::flag, "no inspection is recorded", NONE(x.job.inspection)},
    R{"findings", Type::flag, "everything is in order", NONE(open_findings(x).items)},
};
#undef NONE

View job_date(const Context& x) {
  return date_view(x.job.date);
}

#define GROUP(rows)                                                                        \
  [](const Context& x, const Context&) -> View { return view_from<Context>(rows, x, x); }, \
      table_of<[] { return shapes_from<Context>(rows); }>

const std::array kRoot{
    R{"issue", Type::group, "number, revision, draft", GROUP(kIssue)},
    R{"kind", Type::group, "the kind of work", GROUP(kKind)},
    R{"verdict", Type::group, "the verdict over all", GROUP(kVerdict)},
    R{"none", Type::group, "what there is none of", GROUP(kNone)},
    R{"counts", Type::group, "how many of each", GET(counts_view(x)), table_of<count_members>},
    R{"date", Type::date, "date of the work", GET(job_date(x))},
    R{"person", Type::group, "who tests and signs", GROUP(kPerson)},
    R{"images", Type::group, "logo and signature", GROUP(kImages)},
    R{"supply", Type::group, "supply and earthing", GET(supply_view(x)), table_of<supply_members>},
    R{"bonding", Type::group, "bonding", GET(bonding_view(x)), table_of<bonding_members>},
    R{"isolation", Type::group, "isolation", GET(isolation_view(x)), table_of<isolation_members>},
    R{"circuits", Type::list, "the circuits", GET(circuits_view(x, Which::every)), table_of<circuit_members>},
    R{"by_line", Type::list, "the circuits whose readings are given line by line",
      GET(circuits_view(x, Which::by_line)), table_of<circuit_members>},
    R{"accessories", Type::list, "what was fitted, all circuits", GET(accessories_view(x, -1)),
      table_of<accessory_members>},
    R{"controls", Type::list, "battery controls", GET(controls_view(x)), table_of<control_members>},
    R{"network", Type::group, "the radio network", GET(network_view(x)), table_of<network_members>},
    R{"handover", Type::group, "handover to the client", GET(handover_view(x)), table_of<handover_members>},
    R{"inspection", Type::list, "the inspection items of this job", GET(inspection_view(x, false)),
      table_of<inspection_members>},
    R{"inspection_all", Type::list, "every inspection item", GET(inspection_view(x, true)),
      table_of<inspection_members>},
    R{"instruments", Type::list, "the instruments used", GET(instruments_view(x)),
      table_of<instrument_members>},
    R{"findings", Type::list, "what is not in order, worst first",
      GET(open_findings(x)), table_of<finding_members>},
    R{"failures", Type::list, "what is beyond its limit", GET(findings_view(x, {Verdict::fail})),
      table_of<finding_members>},
    R{"notes", Type::list, "notes of the checks", GET(findings_view(x, {Verdict::note})),
      table_of<finding_members>},
    R{"evidence", Type::list, "judged cells of the installation as a whole",
      GET(evidence_view(x, -1)), table_of<finding_members>},
    R{"departures", Type::list, "departures", GET(departures_view(x)), table_of<departure_members>},
    R{"limitations", Type::list, "agreed limitations", GET(limitations_view(x)),
      table_of<limitation_members>},
    R{"observations", Type::list, "observations", GET(observations_view(x)), table_of<observation_members>},
    R{"dangers", Type::list, "dangers, and what was done about them", GET(dangers_view(x)),
      table_of<danger_members>},
    R{"report", Type::group, "a condition report: observations, outcome", GET(report_view(x)),
      table_of<report_members>},
    R{"signers", Type::group, "who signs for what", GET(signers_view(x)), table_of<signers_members>},
    R{"notification", Type::group, "notification to building control", GROUP(kNotification)},
    R{"extra", Type::group, "the installer's own fields, by their names", GET(extra_view(x)),
      table_of<extra_members>},
    R{"extras", Type::list, "the installer's own fields, one after the other", GET(extras_view(x)),
      table_of<extras_members>},
    R{"basis", Type::group, "what the limits rest on", GET(basis_view(x)), table_of<basis_members>},
};
#undef GROUP
#undef GET

}  // namespace
}  // namespace model

record::View document_view(const record::Job& job, const record::Installer& installer,
                           const checks::Report& report, const IssueFacts& facts) {
  return document_view(job, installer, report, facts, Wanted{});
}

record::View document_view(const record::Job& job, const record::Installer& installer,
                           const checks::Report& report, const IssueFacts& facts,
                           const Wanted& wanted) {
  const auto context =
      std::make_shared<const model::Context>(job, installer, report, facts, wanted);
  // At once: made among what is laid out they would leave holes in the heap, and 5 MB more of it.
  record::View out = model::view_from<model::Context>(model::kRoot, *context, *context);
  out.set("job", record::view_of(job, [&](std::string_view key) {
            return wanted.path("job." + std::string(key));
          }));
  out.set("installer", record::view_of(installer));
  return out;
}

const record::Shape& document_shape() {
  // Never destroyed: at the end of a program that would only take time.
  static const record::Shape& shape = *[] {
    auto* made = new record::Shape;
    std::vector<record::Shape> members = model::shapes_from<model::Context>(model::kRoot);
    const auto file = [&](const char* name, const record::Shape& of, record::ShapeMembers::Table table) {
      record::Shape& shape = members.emplace_back();
      shape.name = name;
      shape.kind = of.kind;
      shape.type = of.type;
      shape.help = of.help;
      shape.written = of.written;
      shape.members = table;
    };
    file("job", record::job_shape(), []() -> const auto& { return record::job_shape().members.all(); });
    file("installer", record::installer_shape(),
         []() -> const auto& { return record::installer_shape().members.all(); });
    made->members = std::move(members);
    return made;
  }();
  return shape;
}

}  // namespace ohmleaf::layout
