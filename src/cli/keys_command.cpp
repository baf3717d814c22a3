#include <filesystem>
#include <memory>

#include "app/person.h"
#include "base/files.h"
#include "base/json.h"
#include "base/text.h"
#include "cli/archive_common.h"
#include "cli/password.h"

namespace ohmleaf::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kShortestPassword = 10, kLongestName = 64;  // of a common name: RFC 5280
constexpr int kMostYears = 30;

struct KeysOptions {
  Common common;
  std::string file, name, organisation, by, password_fd;
  std::string kind = "rsa";
  int years = 5;
};

/// Name and firm: as given, else those of the profile.
bool name_holder(KeysOptions& o, const Environment& e, Sources& sources, Diagnostics& out) {
  if (o.name.empty()) {
    const auto places = places_of(o.common, e);
    const auto person = app::person_in_charge(places, o.by, sources, out);
    const auto installer = person ? app::load_installer(places, sources, out) : std::nullopt;
    if (!installer) {
      out.error("key-name", {}, "it is not known whose key it is to be",
                {"Say --name \"YOUR NAME\", or call it where installer.toml is found."});
      return false;
    }
    o.name = *person;
    if (o.organisation.empty()) o.organisation = installer->firm.name.value_or("");
  }
  for (const std::string* text : {&o.name, &o.organisation}) {
    const bool plain = !first_invalid_utf8(*text) && visible(*text) == *text &&
                       code_point_count(*text) <= kLongestName;
    if (plain && !(text == &o.name && trim(*text).empty())) continue;
    out.error("key-name", {}, "\"" + visible(*text) + "\" cannot be the name in a certificate",
              {"Give a name of 1 to 64 characters, on one line: --name, --organisation."});
    return false;
  }
  return true;
}

fs::path beside(const std::string& key) {
  return fs::path(key).replace_extension(".pem");
}

/// A key that is there may be the only one that old certificates were signed with.
bool is_free(const fs::path& file, Diagnostics& out) {
  std::error_code ec;
  if (fs::symlink_status(file, ec).type() == fs::file_type::not_found) return true;
  out.error("key-exists", {}, visible(file.string()) + " is there already",
            {"Nothing was written. Choose another name, or move that file away first."});
  return false;
}

bool check_options(const KeysOptions& o, Diagnostics& out) {
  const std::string ending = ascii_lower(fs::path(o.file).extension().string());
  if (ending != ".p12" && ending != ".pfx")
    out.error("key-file", {}, "a key is kept in a file that ends in .p12",
              {"Such as: ohmleaf keys my-key.p12"});
  if (o.years < 1 || o.years > kMostYears)
    out.error("key-years", {}, "a key is made for 1 to 30 years", {"Say --years 5."});
  return out.ok() && is_free(o.file, out) && is_free(beside(o.file), out);
}

std::string text_of(const KeysOptions& o, const seal::Holder& h, int width) {
  const auto line = [&](const char* what, const std::string& said) {
    return wrapped(said, "  " + padded(what, 13), std::string(15, ' '), width);
  };
  return "Made a key of your own\n" +
         line("key", visible(o.file) + ", encrypted with the password: for you alone") +
         line("certificate", visible(beside(o.file).string()) + ": to be given to anyone") +
         line("name", visible(h.who())) +
         line("valid", "from " + h.from.date().words() + " to " + h.until.date().words()) +
         line("fingerprint", h.fingerprint) +
         line(
             "proves",
             "that a certificate signed with it has not changed by one byte since, and that it was "
             "signed by whoever has this key and its password") +
         line("does not",
              "prove who that is: nobody but you vouches for the name, anybody could make such a "
              "key with your name in it, and PDF readers say that the signer is not known. Who is "
              "to believe it needs the certificate, or its fingerprint, from your own hand. A "
              "trust service vouches for a name: --sign takes its PKCS#12 file just the same") +
         line("keep",
              "a copy of the key away from this computer, and the password where it is not lost: "
              "without it the key is of no use to anybody, to you neither") +
         line("next", "ohmleaf issue JOB --sign " + visible(o.file));
}

int run_keys(Environment& e, KeysOptions o) {
  Sources sources;
  Diagnostics out;
  if (!check_options(o, out) || !name_holder(o, e, sources, out) || !seal::guard_process(out))
    return refuse(e, o.common, out, sources);
  const auto password = read_password(o.password_fd, o.file, true, out);
  if (!password) return refuse(e, o.common, out, sources);
  if (code_point_count(password->view()) < kShortestPassword) {
    out.error("short-password", {}, "the password is shorter than 10 characters",
              {"Nothing was written. Whoever gets hold of the file can try passwords out: four or "
               "five words that do not belong together are better than one with signs in it."});
    return refuse(e, o.common, out, sources);
  }
  const auto made = seal::Key::make(o.name, o.organisation,
                                    o.kind == "ec" ? seal::Key::Kind::ec : seal::Key::Kind::rsa,
                                    o.years, e.now(), *password, out);
  if (!made || !write_file(o.file, made->pkcs12, out) ||
      !write_file(beside(o.file), made->pem, out, 0644))
    return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (!o.common.json) return report(e, o.common, text_of(o, made->holder, text_width(e)));
  Json j = Json::object();
  j.set("format", 1).set("key", o.file).set("certificate", beside(o.file).string());
  j.set("name", made->holder.name).set("organisation", made->holder.organisation);
  j.set("from", made->holder.from.iso()).set("until", made->holder.until.iso());
  j.set("sha256", made->holder.fingerprint);
  return say(e, j.dump() + "\n");
}

}  // namespace

void add_keys(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<KeysOptions>();
  Command* c = app.add_subcommand(
      "keys", "Make a key of your own to sign certificates with, and say what it proves");
  c->add_option("file", o->file, "Where to put the key; the certificate goes beside it as .pem")
      ->required()
      ->type_name("FILE.p12");
  c->add_option("--name", o->name, "Whose key it is (default: the person in installer.toml)")
      ->type_name("TEXT");
  c->add_option("--organisation", o->organisation, "Of which firm (default: as in installer.toml)")
      ->type_name("TEXT");
  c->add_option("--by", o->by, "A key of [person] in installer.toml (default: the only one)")
      ->type_name("KEY");
  c->add_option("--years", o->years, "How long it is valid, 1 to 30 (default: 5)")->type_name("N");
  c->add_option("--kind", o->kind, "rsa: 3072 bits, read everywhere; ec: P-256, smaller")
      ->one_of({"rsa", "ec"});
  add_password_fd(*c, o->password_fd);
  add_common(*c, o->common, kInstaller | kJson | kVolume);
  add_examples(*c, "  ohmleaf keys my-key.p12 --by rh\n  ohmleaf keys my-key.p12 --name \"R. Hollins\"");
  c->callback([o, &e, &exit_code] { exit_code = run_keys(e, *o); });
}

}  // namespace ohmleaf::cli
