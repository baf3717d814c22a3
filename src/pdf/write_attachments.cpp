#include <algorithm>
#include <utility>

#include "base/digest.h"
#include "pdf/write.h"
#include "pdf/xmp.h"
#include "pdf/text_string.h"

namespace ohmleaf::pdf {
namespace {

std::string relation_name(Attachment::Relation relation) {
  switch (relation) {
    case Attachment::Relation::data:
      return "Data";
    case Attachment::Relation::supplement:
      return "Supplement";
    case Attachment::Relation::source:
      break;
  }
  return "Source";
}

Object* write_attachment(Objects& objects, const Attachment& attachment, const std::string& date) {
  const auto& ready = attachment.ready;
  Object* file = ready ? objects.deflated(ready->deflated) : objects.stream(attachment.bytes);
  objects.put_name(file, "Type", "EmbeddedFile");
  objects.put_name(file, "Subtype", attachment.media_type);
  Object* params = objects.dictionary();
  objects.put(file, "Params", params);
  objects.put_number(params, "Size", static_cast<std::int64_t>(attachment.bytes.size()));
  objects.put(params, "CreationDate", objects.text(date));
  objects.put(params, "ModDate", objects.text(date));
  objects.put(params, "CheckSum", objects.bytes(ready ? std::string(ready->md5) : md5_raw(attachment.bytes)));

  std::string plain;  // for readers that know only the older key
  for (const char c : attachment.name) plain += is_plain_ascii({&c, 1}) ? c : '_';
  Object* specification = objects.indirect();
  objects.put_name(specification, "Type", "Filespec");
  objects.put(specification, "F", objects.text(plain));
  objects.put(specification, "UF", objects.text(attachment.name));
  objects.put(specification, "Desc", objects.text(one_line(attachment.description)));
  objects.put_name(specification, "AFRelationship", relation_name(attachment.relation));
  Object* embedded = objects.dictionary();
  objects.put(specification, "EF", embedded);
  objects.put(embedded, "F", file);
  objects.put(embedded, "UF", file);
  return specification;
}

}  // namespace

void write_attachments(Objects& objects, const Meta& meta) {
  std::vector<std::pair<std::string, Object*>> files;
  Object* associated = nullptr;
  for (const Attachment& attachment : meta.attachments) {
    if (associated == nullptr) {
      associated = objects.array();
      objects.put(objects.catalog(), "AF", associated);
    }
    Object* specification = write_attachment(objects, attachment, pdf_date(meta.created));
    objects.push(associated, specification);
    const std::string& name = attachment.name;
    files.emplace_back(is_plain_ascii(name) ? name : utf16_with_mark(name), specification);
  }
  if (files.empty()) return;
  std::sort(files.begin(), files.end());
  Object* trees = objects.dictionary();
  objects.put(objects.catalog(), "Names", trees);
  Object* tree = objects.dictionary();
  objects.put(trees, "EmbeddedFiles", tree);
  Object* names = objects.array();
  objects.put(tree, "Names", names);
  for (const auto& [name, specification] : files) {
    objects.push(names, is_plain_ascii(name) ? objects.text(name) : objects.bytes(name));
    objects.push(names, specification);
  }
}

}  // namespace ohmleaf::pdf
