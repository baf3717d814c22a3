// A reading as it is written in a job, and the decimals in it.
#include "quantity/reading.h"

#include "fuzz/target.h"

using namespace ohmleaf;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = fuzz::text_of(data, size);
  ReadingFault fault;
  const auto reading = parse_reading(text, fault);
  if (!reading) {
    fuzz::promise(!fault.message.empty() && !fault.hint.empty(),
                  "a refusal says why and what to do");
    return 0;
  }
  fuzz::promise(reading->text == trim(text), "a reading goes to the page as it was written");
  const bool number = reading->kind == ReadingKind::value || reading->kind == ReadingKind::above ||
                      reading->kind == ReadingKind::below;
  fuzz::promise(number || !reading->reason.empty(), "LIM and N/A have their reason");
  if (number) {
    const auto again = Decimal::parse(reading->value.str());
    fuzz::promise(again && *again == reading->value, "a decimal written out is the same decimal");
    fuzz::promise(!reading->value.is_negative(), "a reading has no sign");
  }
  return 0;
}
