// How the one file that knows the PDF library treats its errors.
#include <doctest/doctest.h>

#include <thread>

#include "pdf/haru.h"
#include "pdf/text_string.h"
#include "support.h"

using namespace ohmleaf;
using namespace ohmleaf::pdf;
using namespace ohmleaf::pdf::test;

TEST_CASE("after the first failure nothing more is done, and saving reports it") {
  const auto made = Objects::make();
  Objects& objects = *made;
  REQUIRE(objects.ok());
  Object* dictionary = objects.indirect();
  REQUIRE(dictionary != nullptr);
  CHECK(objects.bytes(std::string(70000, 'x')) == nullptr);  // the library's limit is 65535
  CHECK_FALSE(objects.ok());
  CHECK(objects.dictionary() == nullptr);
  CHECK(objects.array() == nullptr);
  CHECK(objects.stream("abc") == nullptr);
  CHECK(objects.text("abc") == nullptr);
  CHECK(objects.catalog() == nullptr);
  CHECK(objects.add_page("") == nullptr);
  objects.put(dictionary, "Key", nullptr);
  objects.put_number(nullptr, "Key", 1);
  objects.push_number(nullptr, 1);
  Diagnostics out;
  CHECK_FALSE(objects.save(out).has_value());
  REQUIRE(out.all().size() == 1);
  CHECK(out.all()[0].id == "pdf-library");
  CHECK(out.trouble() == Trouble::system);
}

TEST_CASE("a null put into a sound file is a failure too, not a hole") {
  const auto made = Objects::make();
  Objects& objects = *made;
  objects.put(objects.catalog(), "Key", nullptr);
  Diagnostics out;
  CHECK_FALSE(objects.save(out).has_value());
}

TEST_CASE("text outside ASCII is stored as UTF-16 with its mark, beyond the first plane too") {
  CHECK(utf16_with_mark("Ω") == std::string("\xFE\xFF\x03\xA9"));
  CHECK(utf16_with_mark("😀") == std::string("\xFE\xFF\xD8\x3D\xDE\x00", 6));
  CHECK(is_plain_ascii("A-0042 (draft)\\"));
  CHECK_FALSE(is_plain_ascii("a\nb"));
}

TEST_CASE("brackets and backslashes in stored text survive") {
  Meta meta = sample_meta();
  meta.title = "Works (part \\1\\) at No. 9)";
  const Pdf pdf(rendered(sample_document(), meta));
  CHECK(plain(pdf.value(pdf.trailer().at("/Info")).at("/Title")) == meta.title);
}

TEST_CASE("stored text of several lines becomes one, in Info and metadata alike") {
  Meta meta = sample_meta();
  meta.subject = "Added a socket-outlet.\nReplaced\ta switch.";
  const Pdf pdf(rendered(sample_document(), meta));
  const std::string line = "Added a socket-outlet. Replaced a switch.";
  CHECK(plain(pdf.value(pdf.trailer().at("/Info")).at("/Subject")) == line);
  CHECK(has(pdf.stream(pdf.catalog().at("/Metadata")), ">" + line + "<"));
}

TEST_CASE("documents rendered at the same time do not disturb one another") {
  const std::string expected = rendered_sample();
  std::string results[4];
  {
    std::vector<std::thread> threads;
    for (std::string& result : results) {
      threads.emplace_back([&result] {
        Diagnostics out;
        result = render(sample_document(), sample_meta(), out).value_or("");
      });
    }
    for (std::thread& thread : threads) thread.join();
  }
  for (const std::string& result : results) CHECK(result == expected);
}
