#include <array>

#include "layout/model_rows.h"

// What is told in words: departures, limitations, dangers, who signs, the installer's own fields.

namespace ohmleaf::layout::model {
namespace {

using record::Person;
using record::Signing;

#define GET(Type, expression)                                                     \
  []([[maybe_unused]] const Type& t, [[maybe_unused]] const Context& x) -> View { \
    return expression;                                                            \
  }

template <class T>
View list_from(std::span<const Row<T>> rows, const std::vector<T>& values, const Context& x) {
  View out = View::list();
  for (const T& value : values) out.items.push_back(view_from<T>(rows, value, x));
  return out;
}

using record::Departure;
const std::array kDeparture{
    Row<Departure>{"what", Type::text, "the departure", GET(Departure, text_view(t.what))},
    Row<Departure>{"reason", Type::text, "why, and why it is no less safe",
                   GET(Departure, text_view(t.reason))},
    Row<Departure>{"by", Type::text, "who accepts it", GET(Departure, person_view(x, t.by))},
};

using record::Limitation;
const std::array kLimitation{
    Row<Limitation>{"what", Type::text, "the limitation", GET(Limitation, text_view(t.what))},
    Row<Limitation>{"agreed_with", Type::text, "with whom it was agreed",
                    GET(Limitation, text_view(t.agreed_with))},
};

using record::Observation;
const std::array kObservation{
    Row<Observation>{"what", Type::text, "what was seen", GET(Observation, text_view(t.what))},
    Row<Observation>{"where", Type::text, "where", GET(Observation, text_view(t.where))},
    Row<Observation>{"code", Type::text, "C1, C2, C3, FI", GET(Observation, text_view(t.code))},
    Row<Observation>{"danger", Type::flag, "it is coded C1, danger present",
                     GET(Observation, View::of_flag(t.code.value_or("") == "C1"))},
    Row<Observation>{"action", Type::text, "what is to be done",
                     GET(Observation, text_view(t.action))},
};

using record::Danger;
const std::array kDanger{
    Row<Danger>{"what", Type::text, "what was found", GET(Danger, text_view(t.what))},
    Row<Danger>{"where", Type::text, "where it is", GET(Danger, text_view(t.where))},
    Row<Danger>{"made_safe", Type::flag, "it was made safe before leaving",
                GET(Danger, flag_view(t.made_safe))},
    Row<Danger>{"not_made_safe", Type::flag, "nothing says that it was made safe",
                GET(Danger, View::of_flag(!t.made_safe.value_or(false)))},
    Row<Danger>{"verdict", Type::text, "fail until it was made safe, borderline after",
                GET(Danger, View::of_text(t.made_safe.value_or(false) ? "borderline" : "fail"))},
    Row<Danger>{"how", Type::text, "how it was made safe, or why not",
                GET(Danger, text_view(t.how))},
    Row<Danger>{"told", Type::text, "who was told", GET(Danger, text_view(t.told))},
    Row<Danger>{"told_at", Type::date, "when they were told", GET(Danger, date_view(t.told_at))},
    Row<Danger>{"notice", Type::text, "where the warning notice hangs",
                GET(Danger, text_view(t.notice))},
    Row<Danger>{"distributors", Type::flag, "it is in the distributor's equipment",
                GET(Danger, View::of_flag(t.distributors.value_or(false) || t.distributor))},
    Row<Danger>{"distributor", Type::text, "whom of the distributor's it was told to",
                GET(Danger, text_view(t.distributor))},
    Row<Danger>{"distributor_at", Type::date, "when the distributor was told",
                GET(Danger, date_view(t.distributor_at))},
};

const Person* signer(const Context& x, record::Text Signing::*role) {
  const record::Text& key = x.job.signs(role);
  return key ? x.installer.person(*key) : nullptr;
}

View image_of(const Context& x, record::Text Signing::*role) {
  const record::Text& key = x.job.signs(role);
  if (!key) return {};
  for (const auto& [id, image] : x.facts.signatures)
    if (id == *key) return View::of_text(std::to_string(image));
  return {};
}

struct Signer {
  record::Text Signing::*role;
};
View signer_text(const Context& x, const Signer& s, record::Text Person::*member) {
  const Person* p = signer(x, s.role);
  return p ? text_view(p->*member) : View{};
}
const std::array kSigner{
    Row<Signer>{"name", Type::text, "who signs", GET(Signer, signer_text(x, t, &Person::name))},
    Row<Signer>{"role", Type::text, "in which capacity",
                GET(Signer, signer_text(x, t, &Person::role))},
    Row<Signer>{"image", Type::text, "the signature", GET(Signer, image_of(x, t.role))},
};
std::vector<Shape> signer_members() {
  return shapes_from<Signer>(kSigner);
}

bool one_signs(const Context& x) {
  const Person* design = signer(x, &Signing::design);
  return design == signer(x, &Signing::construction) && design == signer(x, &Signing::inspection);
}

#define SIGNER(role)                                              \
  [](const Context& c, const Context& x) -> View {                \
    static_cast<void>(c);                                         \
    return view_from<Signer>(kSigner, Signer{&Signing::role}, x); \
  },                                                              \
      table_of<signer_members>
const std::array kSigners{
    Row<Context>{"design", Type::group, "who signs for the design", SIGNER(design)},
    Row<Context>{"construction", Type::group, "who signs for the construction",
                 SIGNER(construction)},
    Row<Context>{"inspection", Type::group, "who signs for inspection and testing",
                 SIGNER(inspection)},
    Row<Context>{"authorised", Type::group, "who authorises a condition report",
                 SIGNER(authorised)},
    Row<Context>{"one", Type::flag, "one person signs for design, construction and inspection",
                 GET(Context, View::of_flag(one_signs(x)))},
    Row<Context>{"several", Type::flag, "they are signed for by several people",
                 GET(Context, View::of_flag(!one_signs(x)))},
};
#undef SIGNER
#undef GET

}  // namespace

View person_view(const Context& x, const record::Text& key) {
  const Person* p = key ? x.installer.person(*key) : nullptr;
  return p && p->name ? View::of_text(*p->name, {}, key.span) : text_view(key);
}

View departures_view(const Context& x) {
  return list_from<Departure>(kDeparture, x.job.departures, x);
}
std::vector<Shape> departure_members() {
  return shapes_from<Departure>(kDeparture);
}
View limitations_view(const Context& x) {
  return list_from<Limitation>(kLimitation, x.job.limitations, x);
}
std::vector<Shape> limitation_members() {
  return shapes_from<Limitation>(kLimitation);
}
View observations_view(const Context& x) {
  return list_from<Observation>(kObservation, x.job.observations, x);
}
std::vector<Shape> observation_members() {
  return shapes_from<Observation>(kObservation);
}
View dangers_view(const Context& x) {
  return list_from<Danger>(kDanger, x.job.dangers, x);
}
std::vector<Shape> danger_members() {
  return shapes_from<Danger>(kDanger);
}
View signers_view(const Context& x) {
  return view_from<Context>(kSigners, x, x);
}
std::vector<Shape> signers_members() {
  return shapes_from<Context>(kSigners);
}

/// `extra.van_number`: any name may stand there, since a form is read without a job.
View extra_view(const Context& x) {
  View out = View::group();
  for (const record::Extra& e : x.job.extra) out.set(e.key, View::of_text(e.text, {}, e.span));
  return out;
}
std::vector<Shape> extra_members() {
  return {leaf_shape("*", Type::text, "a field of the installer's own, from [extra] in the job")};
}
View extras_view(const Context& x) {
  View out = View::list();
  for (const record::Extra& e : x.job.extra) {
    View item = View::group();
    item.members = {{"key", View::of_text(e.key)}, {"text", text_view(e.text)}};
    out.items.push_back(std::move(item));
  }
  return out;
}
std::vector<Shape> extras_members() {
  return {leaf_shape("key", Type::text, "name of the field"),
          leaf_shape("text", Type::text, "its text")};
}

}  // namespace ohmleaf::layout::model
