#include <algorithm>

#include "layout/support.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;

namespace {

/// What loading a form reports: "line:column id message | hint".
std::vector<std::string> faults(std::string source) {
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add("f", std::move(source));
  CHECK(!load_form(sources, id, found));
  return described(sources, found);
}

std::string only_fault(std::string source) {
  const auto all = faults(std::move(source));
  for (const std::string& f : all) CAPTURE(f);
  CHECK(all.size() == 1);
  return all.empty() ? "" : all.front();
}

constexpr const char* kTop = "format = 1\ntitle = \"T\"\n";

}  // namespace

TEST_CASE("a path that is not there is an error where it stands, with the nearest path") {
  CHECK(only_fault(std::string(kTop) +
                   "[[block]]\ntype = \"paragraph\"\ntext = [ { path = \"job.premisis\" } ]\n") ==
        "f:5:19 form-path the record has no \"job.premisis\" | Did you mean \"job.premises\"?");
  CHECK(only_fault(std::string(kTop) + "[[block]]\ntype = \"paragraph\"\ntext = \"x\"\nwhen = "
                                       "\"verdict.cleer\"\n") ==
        "f:6:8 form-path the record has no \"verdict.cleer\" | Did you mean \"verdict.clear\"?");
}

TEST_CASE("a path into a list's element needs its dot, and a repeat around it") {
  CHECK(
      only_fault(std::string(kTop) +
                 "[[block]]\ntype = \"paragraph\"\ntext = [ { path = \".ref\" } ]\n")
          .starts_with("f:5:19 form-path \".ref\" starts at a repeat's item, and there is no such "
                       "repeat around it"));
  CHECK(only_fault(std::string(kTop) +
                   "[[block]]\ntype = \"table\"\nrepeat = \"circuits\"\ncolumns = [ { "
                   "heading = \"N\", path = \"ref\" } ]\n") ==
        "f:6:37 form-path the record has no \"ref\" | Inside a repeat the item's own values start "
        "with a dot: \".ref\".");
  CHECK(only_fault(std::string(kTop) +
                   "[[block]]\ntype = \"table\"\nrepeat = \"circuits\"\ncolumns = [ { "
                   "heading = \"N\", path = \".devise\" } ]\n") ==
        "f:6:37 form-path the record has no \".devise\" | Did you mean \".device\"?");
}

TEST_CASE("a path of the wrong kind is told what is needed") {
  CHECK(only_fault(std::string(kTop) +
                   "[[block]]\ntype = \"paragraph\"\ntext = [ { path = \"supply\" } ]\n") ==
        "f:5:19 form-path-kind \"supply\" is a group of values, and a value that can be printed is "
        "needed here");
  CHECK(only_fault(std::string(kTop) + "[[block]]\ntype = \"group\"\nrepeat = \"supply\"\n") ==
        "f:5:10 form-path-kind \"supply\" is a group of values, and a list, one element after the "
        "other is needed here");
  CHECK(only_fault(std::string(kTop) +
                   "[[block]]\ntype = \"fields\"\nfields = [ { label = \"x\", path = "
                   "\"job.client\", show = \"reading\" } ]\n") ==
        "f:5:34 form-path-kind \"job.client\" is a single value, and a reading with its limit is "
        "needed here");
}

TEST_CASE("unknown keys, types and words are errors with a suggestion") {
  CHECK(
      only_fault(std::string(kTop) + "[[block]]\ntype = \"paragraph\"\ntxt = \"x\"\n") ==
      "f:5:1 form-unknown-key the block \"paragraph\" has no key \"txt\" | Did you mean \"text\"?");
  CHECK(
      only_fault(std::string(kTop) + "[[block]]\ntype = \"paragraf\"\n")
          .starts_with("f:4:8 form-choice this is none of the words that may stand here | One of: "
                       "heading, paragraph"));
  CHECK(only_fault(std::string(kTop) + "[words]\nlimitt = \"x\"\n") ==
        "f:4:1 form-unknown-key [words] has no key \"limitt\" | Did you mean \"limit\"?");
  CHECK(only_fault(std::string(kTop) + "colour = 1\n")
            .starts_with("f:3:1 form-unknown-key a form has"));
  CHECK(only_fault(std::string(kTop) + "[[block]]\ntype = \"table\"\nrepeat = \"circuits\"\n") ==
        "f:3:1 form-table a table needs \"repeat\" and \"columns\"");
}

TEST_CASE("repeats stand at most two deep") {
  const std::string form = std::string(kTop) +
                           "[[block]]\ntype = \"group\"\nrepeat = \"circuits\"\n"
                           "[[block.block]]\ntype = \"group\"\nrepeat = \".accessories\"\n"
                           "[[block.block.block]]\ntype = \"group\"\nrepeat = \"controls\"\n";
  CHECK(only_fault(form) ==
        "f:11:10 form-repeat this is a repeat inside a repeat inside a repeat | At most two stand "
        "inside one another.");
}

TEST_CASE("the outer item is reached with two dots") {
  const Form form =
      form_from(std::string(kTop) +
                "[[block]]\ntype = \"group\"\nrepeat = \"circuits\"\n"
                "[[block.block]]\ntype = \"group\"\nrepeat = \".accessories\"\n"
                "[[block.block.block]]\ntype = \"paragraph\"\n"
                "text = [ { path = \"..ref\" }, \" has \", { path = \".where\" } ]\n");
  CHECK(page_says(lay_out_or_fail(form, plain_case().view()).pages[0], "3 has workshop"));
}

TEST_CASE("a form says its format, and a newer one is refused") {
  CHECK(only_fault("title = \"T\"\n").find("form-format the form does not say its format") !=
        std::string::npos);
  CHECK(
      only_fault("format = 2\ntitle = \"T\"\n").starts_with("f:1:10 form-format this form is of"));
}

TEST_CASE("everything that is wrong is reported in one run") {
  const auto all =
      faults(std::string(kTop) +
             "[page]\nmargins = [1, 2, 3]\n[theme]\nmuted = \"#999999\"\nbody = [5, 12]\n"
             "[[block]]\ntype = \"paragraph\"\ntext = [ { path = \"nowhere\" } ]\n");
  const auto has = [&](std::string_view id) {
    return std::any_of(all.begin(), all.end(),
                       [&](const std::string& f) { return f.find(id) != std::string::npos; });
  };
  CHECK(has("f:4:11 form-margins"));
  CHECK(has("f:7:8 form-type-small"));
  CHECK(has("f:10:19 form-path "));
}

TEST_CASE("a theme whose text cannot be read is refused where it says so") {
  CHECK(only_fault(std::string(kTop) + "[theme]\nmuted = \"#909090\"\n")
            .starts_with("f:4:9 form-contrast muted has a contrast of 3."));
  CHECK(only_fault(std::string(kTop) + "[theme]\naccent = \"green\"\n") ==
        "f:4:10 form-color green is no colour | Write a colour as \"#1F5F5B\".");
}

TEST_CASE("no form may print a fail in the words of a pass, or a draft without its mark") {
  const auto said = [](const std::string& lines) { return only_fault(std::string(kTop) + lines); };
  CHECK(said("[words]\nfail = \"Pass \"\n") ==
        "f:4:8 form-words-alike \"fail\" would be printed in the same words as \"pass\" | Give it "
        "words of its own: a reader must see the difference without colour.");
  CHECK(said("[words]\npass = \"in order\"\nborderline = \"in order\"\n")
            .starts_with("f:5:14 form-words-alike"));
  CHECK(said("[words]\nno = \"yes\"\n").starts_with("f:4:6 form-words-alike"));
  CHECK(said("[words]\ndraft = \" \"\n").starts_with("f:4:9 form-words-empty"));
  CHECK(said("[words]\ndraft_mark = \"\"\n").starts_with("f:4:14 form-words-empty"));
  CHECK(said("[words]\ndraft_mark = \".\"\n").starts_with("f:4:14 form-words-draft"));
  CHECK(said("[words]\nredacted = \"COPY\"\n").starts_with("f:4:12 form-words-hole"));
  const std::string block =
      "[[block]]\ntype = \"table\"\nrepeat = \"circuits\"\ncolumns = [ { heading = "
      "\"V\", path = \".verdict\", show = \"verdict\", words = ";
  CHECK(said(block + "{ fail = \"pass\" } } ]\n").starts_with("f:6:84 form-words-alike"));
  CHECK(said(block + "{ missing = \"PASS\" } } ]\n").starts_with("f:6:87 form-words-alike"));
  CHECK(said(block + "{ true = \"done\", false = \"Done\" } } ]\n").find("form-words-alike") !=
        std::string::npos);
  Sources sources;
  Diagnostics found;  // what differs is the installer's to say
  CHECK(load_form(
      sources,
      sources.add("f", std::string(kTop) + block +
                           "{ fail = \"not in order\" } } ]\n[words]\npass = \"in order\"\n"),
      found));
}

TEST_CASE("hostile forms end in an error") {
  for (const std::string source :
       {"", "format = 1", "format = 1\ntitle = 3\n", "format = 1\ntitle = \"T\"\nblock = 3\n",
        "format = 1\ntitle = \"T\"\nblock = [ 1, \"a\", [] ]\n",
        "format = 1\ntitle = \"T\"\n[[block]]\ntype = [1]\n",
        "format = 1\ntitle = \"T\"\n[[block]]\ntype = \"table\"\nrepeat = 1\ncolumns = 1\n",
        "format = 1\ntitle = \"T\"\n[[block]]\ntype = \"paragraph\"\ntext = [ [ [ 1 ] ] ]\n",
        "format = 1\ntitle = \"T\"\n[[block]]\ntype = \"space\"\nheight = -5\n"}) {
    CAPTURE(source);
    CHECK(!faults(source).empty());
  }
}
