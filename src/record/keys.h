#pragma once
#include <span>
#include <string_view>

#include "base/toml.h"
#include "record/view.h"

// A record is described once, by a table of its keys. The table reads the record from TOML, knows
// what to suggest for a misspelt key, shows the record to forms, and tells the editor what may
// stand where. To add a field: a member in job.h and a line in the record's table.

namespace ohmleaf::record {

class Reader;

enum class Required { no, yes };

/// What a key allows beyond its type.
struct Rule {
  std::span<const std::string_view> words = {};  ///< the only texts that may stand there
  bool (*accepts)(std::string_view) = nullptr;   ///< a text of a certain form ...
  std::string_view form = {};                    ///< ... that form in words ...
  std::string_view pattern = {};                 ///< ... and as a regular expression (ECMA-262)
  bool lines = false;                            ///< text may run over several lines
  std::int64_t least = 0, most = 0;              ///< of a number, where most > 0
  std::span<const std::int64_t> numbers = {};    ///< the only numbers that may stand there
  bool residual = false;                         ///< a device that must have an RCD
  bool overcurrent = false;                      ///< a device that must clear overcurrent
};

/// One value as it is read: its node, the key to name in messages, what the key allows.
struct Value {
  const TomlNode& node;
  std::string_view name;
  const Rule& rule;
};

/// One line of a record's table.
template <class Record>
struct Key {
  std::string_view name;
  Required required = Required::no;
  std::string_view help;
  Rule rule;
  void (*read)(Reader&, const Value&, Record&) = nullptr;
  View (*view)(const Record&) = nullptr;
  void (*shape)(Shape&, const Rule&) = nullptr;
};

/// The table of a record; every record specialises it in one of the job_keys files.
template <class Record>
std::span<const Key<Record>> keys();

}  // namespace ohmleaf::record
