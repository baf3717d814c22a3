#include "cli/limits_command.h"

#include <memory>

#include "base/text.h"
#include "cli/command.h"
#include "cli/csv_report.h"
#include "cli/limits_answer.h"
#include "limits/rows.h"

namespace ohmleaf::cli {
namespace {

struct OptionInfo {
  std::string_view name;
  std::string_view type;  ///< "M"; empty for a flag
  std::string_view help;
};

struct QuestionInfo {
  std::string_view name, about;
  LimitAnswerer answer;
  std::string_view tables;   ///< what --table shows here, by blanks
  std::string_view example;  ///< behind the question's own name
  std::vector<OptionInfo> options;
};

const std::vector<QuestionInfo>& questions() {
  static const std::vector<QuestionInfo> kQuestions{
      {"zs",
       "Maximum earth-fault-loop impedance",
       answer_zs,
       "zs-b zs-c zs-d zs-bs88-2 zs-bs88-3 zs-bs1361 zs-bs3036 zs-bs1362",
       "--device \"RCBO B32, 30 mA\" --ze 0.21",
       {{"device", "DEVICE",
         "Such as B32, \"BS 3036 30\", \"RCBO C20, 30 mA\"; with its own multiple of In: \"MCB 32, "
         "8x\", or \"MCB 32\" and --multiplier 8"},
        {"multiplier", "M",
         "Multiple of In at which the circuit-breaker operates instantaneously, where it is none "
         "of "
         "B, C and D"},
        {"time", "S", "Disconnection time (default: what the circuit asks for)"},
        {"system", "SYSTEM", "TN, TN-S, TN-C-S, TN-C or TT (default TN)"},
        {"use", "USE", "sockets, fixed or distribution"},
        {"rcd", "MA", "Rated residual current of the RCD"},
        {"ze", "OHM", "Ze, for the exact limit of a reading at ambient"},
        {"at", "C", "Temperature at the test (default 20)"},
        {"operating", "C", "Temperature of the cable in service (default 70)"}}},
      {"time",
       "Maximum disconnection time",
       answer_time,
       "disconnection",
       "--system TN-C-S --use sockets",
       {{"system", "SYSTEM", "TN, TN-S, TN-C-S, TN-C or TT (default TN)"},
        {"use", "USE", "sockets, fixed or distribution (default: all)"},
        {"rating", "A", "Rated current of the circuit (default 32)"},
        {"volts", "V", "Nominal voltage to earth (default 230)"},
        {"dc", "", "Direct current"}}},
      {"rcd",
       "Operating times and limits of an RCD",
       answer_rcd,
       "rcd-zs rcd-times rcd-types",
       "--idn 30",
       {{"idn", "MA", "Rated residual current"},
        {"delayed", "", "Time-delayed, type S"},
        {"bs4293", "", "An old device to BS 4293"},
        {"delay", "MS", "Delay of an old time-delayed device"},
        {"load", "LOAD", "fixed-without-dc, electronic, frequency-controlled or smooth-dc"}}},
      {"r1r2",
       "R1+R2 by size, length and temperature",
       answer_r1r2,
       "resistance r1r2 temperature",
       "--line 2.5/1.5 --length 28",
       {{"line", "MM2", "Line conductor, or both sizes such as 2.5/1.5"},
        {"cpc", "MM2", "Protective conductor (without: the line alone)"},
        {"length", "M", "Length of the run"},
        {"at", "C", "Temperature (default 20)"},
        {"reading", "OHM", "A reading, to learn the length from"}}},
      {"ring",
       "Arithmetic of a ring final circuit",
       answer_ring,
       "circuits",
       "--r1 0.32 --rn 0.33 --r2 0.52",
       {{"r1", "OHM", "Line, end to end"},
        {"rn", "OHM", "Neutral, end to end"},
        {"r2", "OHM", "Protective conductor, end to end"},
        {"line", "MM2", "Line conductor (default 2.5)"},
        {"cpc", "MM2", "Protective conductor (default 1.5)"}}},
      {"insulation",
       "Insulation resistance",
       answer_insulation,
       "insulation",
       "--parallel 200,50,999",
       {{"volts", "V", "Nominal voltage of the circuit (default 230)"},
        {"selv", "", "SELV or PELV"},
        {"electronics", "", "Electronics stay connected"},
        {"parallel", "LIST", "Megohms of circuits tested together, such as 5,20,10"}}},
      {"drop",
       "Volt drop of a run",
       answer_drop,
       "drop",
       "--size 2.5 --length 28 --current 20",
       {{"size", "MM2", "Size of the conductors"},
        {"length", "M", "Length of the run"},
        {"current", "A", "Design current"},
        {"cable", "CABLE", "twin-earth, multicore or singles (default twin-earth)"},
        {"phases", "N", "1 or 3 (default 1); 3 with multicore or singles"}}},
      {"capacity",
       "Current-carrying capacity and Ib ≤ In ≤ Iz",
       answer_capacity,
       "capacity corrections grouping",
       "--size 2.5 --method C --ib 20 --in 20",
       {{"size", "MM2", "Size of the conductors"},
        {"method", "METHOD", "Reference method, such as C or 100 (default C, singles B)"},
        {"cable", "CABLE", "twin-earth, multicore or singles (default twin-earth)"},
        {"ambient", "C", "Ambient temperature"},
        {"insulated", "MM", "Length surrounded by thermal insulation"},
        {"phases", "N", "1 or 3 (default 1); 3 with multicore or singles"},
        {"circuits", "N", "Circuits or multicore cables grouped together, touching"},
        {"arrangement", "HOW", "bunched, wall (single layer), tray or ladder (default bunched)"},
        {"grouping", "FACTOR", "Grouping factor as you take it from elsewhere"},
        {"bs3036", "", "Behind a BS 3036 fuse"},
        {"ib", "A", "Design current"},
        {"in", "A", "Rated current of the device"}}},
      {"adiabatic",
       "Protective conductor by the adiabatic equation",
       answer_adiabatic,
       "k",
       "--current 160 --time 0.1",
       {{"current", "A", "Fault current"},
        {"time", "S", "Disconnection time, for the smallest size"},
        {"size", "MM2", "Size, for the longest time"},
        {"k", "K", "k (default: from the next three)"},
        {"place", "PLACE", "live, apart, in-cable, sheath, conduit, bare-… (default in-cable)"},
        {"metal", "METAL", "copper, aluminium, steel or lead (default copper)"},
        {"insulation", "TYPE", "Such as thermoplastic-70 (the default)"}}},
      {"k",
       "k by conductor and insulation",
       answer_k,
       "k",
       "--place in-cable",
       {{"place", "PLACE", "live, apart, in-cable, sheath, conduit, bare-… (default in-cable)"},
        {"metal", "METAL", "copper, aluminium, steel or lead (default copper)"},
        {"insulation", "TYPE", "Such as thermoplastic-70 (the default)"},
        {"size", "MM2", "Size: above 300 mm² some k are smaller"}}},
      {"fault",
       "Prospective fault current from impedance",
       answer_fault,
       "supply",
       "--impedance 0.21 --breaking 6",
       {{"impedance", "OHM", "Loop impedance at the point"},
        {"volts", "V", "Nominal voltage to earth (default 230)"},
        {"breaking", "KA", "Breaking capacity of the device"},
        {"three-phase", "", "Line to line as well"}}},
      {"bonding",
       "Earthing, bonding and protective conductors",
       answer_bonding,
       "bonding",
       "--system TN-C-S --neutral 25",
       {{"size", "MM2", "Bonding conductor, for its resistance"},
        {"length", "M", "Its length"},
        {"system", "SYSTEM", "TN-S, TN-C-S, TN-C or TT, for main bonding"},
        {"neutral", "MM2", "Supply neutral (TN-C-S)"},
        {"earthing", "MM2", "Earthing conductor (TN-S, TT)"},
        {"line", "MM2", "Line conductor, for its protective conductor"},
        {"supplementary", "", "Supplementary bonding"},
        {"ia", "A", "Operating current of the device, for its resistance"}}},
      {"supply",
       "What a supply declares",
       answer_supply,
       "supply",
       "--system TN-C-S",
       {{"system", "SYSTEM", "TN-S, TN-C-S, TN-C or TT"}}},
      {"circuit",
       "Rules of ring and radial circuits and spurs",
       answer_circuit,
       "circuits",
       "--rating 20 --size 2.5",
       {{"rating", "A", "Rated current of a radial circuit"}, {"size", "MM2", "Its conductors"}}},
      {"protection",
       "Additional, arc-fault and surge protection",
       answer_protection,
       "additional-protection considerations",
       "--sockets --concealed",
       {{"sockets", "", "Socket-outlets"},
        {"luminaires", "", "Luminaires in a dwelling"},
        {"bathroom", "", "A room with a bath or shower"},
        {"outdoors", "", "Equipment for use outdoors"},
        {"concealed", "", "Cables less than 50 mm deep, not protected"},
        {"rating", "A", "Rated current of the circuit (default 32)"},
        {"premises", "KIND",
         "dwelling, high-rise, multiple-occupation, student, care-home or other"}}},
      {"notify",
       "Work in a dwelling that may be notifiable",
       answer_notify,
       "notification",
       "--work addition --nation england",
       {{"work", "WORK",
         "new-circuit, board-replacement, special-location, kitchen, outdoors, addition or "
         "like-for-like"},
        {"nation", "NATION", "england, wales, scotland or northern-ireland (default: all)"}}},
  };
  return kQuestions;
}

/// What was asked on the command line.
struct LimitsOptions {
  Common common;
  std::string edition, date;
  std::string table;
  bool list_tables = false, provenance = false;
  const QuestionInfo* question = nullptr;
  bool question_table = false;
  std::map<std::string, std::string> values;
  std::map<std::string, bool> flags;
};

std::optional<limits::Edition> edition_of(const LimitsOptions& o, Diagnostics& out) {
  if (!o.edition.empty() && !o.date.empty()) {
    out.error("two-editions", {}, "--edition and --date both choose the edition",
              {"Give one of them."});
    return std::nullopt;
  }
  if (!o.date.empty()) {
    if (const auto date = Date::parse(o.date)) return limits::edition_for(*date);
    out.error("not-a-date", {}, "--date is \"" + visible(o.date) + "\", which is no date",
              {"Write the date of the design as year, month, day: 2026-11-20."});
    return std::nullopt;
  }
  if (o.edition.empty()) return limits::Edition::y2026;
  if (const auto found = limits::edition_from_name(o.edition)) return found;
  out.error("unknown-edition", {}, "\"" + visible(o.edition) + "\" is no edition known here",
            {"Known are 2008, 2015, 2018, 2022 and 2026, or the whole name such as \"" +
             std::string(limits::name(limits::Edition::y2022)) + "\"."});
  return std::nullopt;
}

std::vector<std::string> named_tables(const LimitsOptions& o, Diagnostics& out) {
  std::vector<std::string> names;
  if (o.question_table && o.question != nullptr) {
    const auto device = o.values.find("device");
    if (o.question->answer == answer_zs && device != o.values.end() && !device->second.empty()) {
      names = zs_tables_of(device->second);
      if (names.empty())
        out.error("unknown-device", {},
                  "\"" + visible(device->second) + "\" is no kind of device known here",
                  {"Known are B, C, D, BS 88-2, BS 88-3, BS 1361, BS 3036, BS 1362 and RCD."});
      return names;
    }
    for (const std::string_view name : split(o.question->tables, ' ')) names.emplace_back(name);
    return names;
  }
  std::vector<std::string_view> known;
  for (const limits::TableInfo& t : limits::tables()) {
    if (t.name == ascii_lower(o.table)) return {std::string(t.name)};
    known.push_back(t.name);
  }
  const auto near = nearest(ascii_lower(o.table), known);
  out.error("unknown-table", {}, "there is no table named \"" + visible(o.table) + "\"",
            {(near ? "Did you mean \"" + *near + "\"? " : std::string()) +
             "`ohmleaf limits --table` names them all."});
  return {};
}

int refuse(Environment& e, const LimitsOptions& o, const Diagnostics& out) {
  const Sources sources;
  return o.common.json ? complain_json(e, out, sources) : complain(e, out, sources, o.common);
}

/// Every row of some tables, one below the other.
Json all_rows_of(const Json& tables) {
  Json rows = Json::array();
  for (const Json& table : *tables.find("tables")->as_array())
    for (const Json& row : *table.find("rows")->as_array()) rows.push(row);
  return rows;
}

int show_tables(Environment& e, const LimitsOptions& o, limits::Edition edition, Diagnostics& out) {
  const int width = text_width(e);
  const Style style = style_for(o.common, e, false);
  if (o.provenance)
    return say(e, o.common.json ? provenance_json(edition).dump() + "\n"
                                : provenance_text(edition, style, width));
  if (o.list_tables && o.table.empty() && !o.question_table) {
    if (o.common.csv) return say(e, csv_of(*table_list_json().find("tables")));
    return say(e, o.common.json ? table_list_json().dump() + "\n" : table_list_text(width));
  }
  const auto names = named_tables(o, out);
  if (!out.ok()) return refuse(e, o, out);
  const Json json = tables_json(names, edition);
  if (o.common.csv) return say(e, csv_of(all_rows_of(json)));
  return say(e, o.common.json ? json.dump() + "\n" : tables_text(names, edition, style, width));
}

int run_limits(Environment& e, const LimitsOptions& o) {
  Diagnostics out;
  const auto edition = edition_of(o, out);
  if (!edition) return refuse(e, o, out);
  if (o.provenance || o.list_tables || o.question_table) return show_tables(e, o, *edition, out);
  LimitAnswer answer;
  answer.edition = *edition;
  const LimitQuestion question(o.values, o.flags, *edition, out);
  o.question->answer(question, answer);
  // All or nothing: half an answer beside an error is read as a whole one.
  if (!out.ok()) return refuse(e, o, out);
  const Json json = limits_json(answer);
  if (o.common.csv) return say(e, csv_of(*json.find("results")));
  if (o.common.json) return say(e, json.dump() + "\n");
  if (!o.common.quiet)
    return say(e, limits_text(answer, style_for(o.common, e, false), text_width(e)));
  std::string figures;  // the figures alone, one a line
  for (const LimitResult& r : answer.results) figures += r.printed() + "\n";
  return say(e, figures);
}

void add_question(Command& parent, const std::shared_ptr<LimitsOptions>& o,
                  const QuestionInfo& info) {
  Command* c = parent.add_subcommand(std::string(info.name), std::string(info.about));
  c->fallthrough();
  for (const OptionInfo& option : info.options) {
    const std::string key(option.name);
    if (option.type.empty())
      c->add_flag("--" + key, o->flags[key], std::string(option.help));
    else
      c->add_option("--" + key, o->values[key], std::string(option.help))
          ->type_name(std::string(option.type));
  }
  c->add_flag("--table", o->question_table, "The whole tables behind this question");
  add_examples(*c, "  ohmleaf limits " + std::string(info.name) + " " + std::string(info.example));
  c->callback([o, &info] { o->question = &info; });
}

}  // namespace

void add_limits_command(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<LimitsOptions>();
  Command* c =
      app.add_subcommand("limits", "Show any limit with its derivation and source, without a job");
  c->require_subcommand(0, 1);
  for (const QuestionInfo& info : questions()) add_question(*c, o, info);
  c->add_option("--edition", o->edition, "Edition of the wiring rules, such as 2022 (default 2026)")
      ->type_name("YEAR");
  c->add_option("--date", o->date, "Date of the design, to choose the edition by")
      ->type_name("DATE");
  Option* table =
      c->add_option("--table", o->table, "Show a whole table; without a name, name them all")
          ->type_name("NAME")
          ->expected(0, 1);
  c->add_flag("--provenance", o->provenance,
              "How much was read in print, and every value that rests on memory");
  add_common(*c, o->common, kJson | kCsv | kVolume);
  add_examples(*c,
               "  ohmleaf limits zs --device B32\n"
               "  ohmleaf limits r1r2 --line 2.5/1.5 --length 28\n"
               "  ohmleaf limits --table zs-b");
  c->final_callback([o, c, table, &e, &exit_code] {
    o->list_tables = table->count() > 0;
    // A name that is a question too ("limits --table k") is taken for the question.
    if (o->list_tables && o->table.empty() && o->question != nullptr) o->question_table = true;
    if (o->question == nullptr && !o->list_tables && !o->provenance)
      exit_code = say(e, c->help());
    else
      exit_code = run_limits(e, *o);
  });
}

}  // namespace ohmleaf::cli
