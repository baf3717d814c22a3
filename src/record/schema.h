#pragma once
#include <string>
#include <string_view>

#include "base/json.h"
#include "record/view.h"

namespace ohmleaf::record {

/// The help of a key as sentences, with its unit and how it is written, for editors and manuals:
/// "Size of the line conductor, in mm². A number, or "N/A: why"."
std::string sentences_of(const Shape& shape);

/// A JSON Schema (draft 7: what TOML plugins of editors take) of a file of this shape, with the
/// help of every key in it. The file is meant as such a plugin turns it into JSON: dates and times
/// are strings as written. `title` names the file for people. Words are offered in the spelling of
/// the table; capitals and old synonyms that the reader takes as well are not in the schema.
Json json_schema(const Shape& root, std::string_view title);

/// One key or table of such a schema, without the head.
Json schema_of(const Shape& shape);

/// `properties`, `required` and the refusal of any other key, of a table with these members.
void set_members(Json& schema, const std::vector<Shape>& members);

}  // namespace ohmleaf::record
