#pragma once
#include <expat.h>

#include <map>
#include <string>
#include <string_view>
#include <vector>

// What we write, read by a parser that knows nothing of us: XML (metadata, pictures) by expat.

namespace fuzz {

struct Xml {
  bool well_formed = false;
  /// What stands in the elements of a name ("dc:title"), one after the other, inner ones included.
  std::map<std::string, std::string> texts;
};

inline Xml read_xml(std::string_view text) {
  struct State {
    Xml xml;
    std::vector<std::string> open;
  } state;
  XML_Parser parser = XML_ParserCreate(nullptr);
  XML_SetUserData(parser, &state);
  XML_SetElementHandler(
      parser,
      [](void* s, const char* name, const char**) { static_cast<State*>(s)->open.push_back(name); },
      [](void* s, const char*) { static_cast<State*>(s)->open.pop_back(); });
  XML_SetCharacterDataHandler(parser, [](void* s, const char* text, int length) {
    auto& to = *static_cast<State*>(s);
    for (const std::string& name : to.open)
      to.xml.texts[name].append(text, static_cast<std::size_t>(length));
  });
  state.xml.well_formed =
      XML_Parse(parser, text.data(), static_cast<int>(text.size()), 1) == XML_STATUS_OK;
  XML_ParserFree(parser);
  return std::move(state.xml);
}

}  // namespace fuzz
