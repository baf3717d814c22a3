#include <cerrno>

#include "archive/store.h"
#include "base/digest.h"

namespace ohmleaf::archive {
namespace {

// One page for whoever finds this folder in thirty years. Its digest is in the first record, so a
// change here changes new archives only.
constexpr std::string_view kReadmeText =
    R"README(THIS FOLDER IS AN ARCHIVE OF ELECTRICAL CERTIFICATES

It can be read and checked with no program of its maker: a file browser and a
PDF viewer to read; cat, jq and sha512sum to check. Keep it whole. Copy it as
often as you like. Change nothing inside it.

WHAT IS HERE
  One folder for each job, named by its certificate number in small letters.
  sp-0007/                      certificate SP-0007
    0=ocfl_object_1.1           says how the folder is laid out
    inventory.json              every file of the job with its SHA-512 digest
    inventory.json.sha512       the digest of inventory.json
    v1/content/                 the certificate as first issued
      *.pdf                     the certificate itself
      job.toml                  the readings and facts it was made from
      issue.json                who issued it, when, number, search facts
    v2/content/                 a later revision, withdrawal or time-stamp, if
                                any, whole; a time-stamp of the certificate
                                (RFC 3161) is a file beside it, *.tsr
  The highest v is what counts today; the older ones stay as they were.
  The layout is OCFL 1.1, the Oxford Common File Layout, an open standard
  (https://ocfl.io/1.1/spec/). ocfl_layout.json names how folders are named.

TO CHECK A JOB: go into its folder, then
  sha512sum -c inventory.json.sha512
  jq -r '.manifest|to_entries[]|.key as $d|.value[]|"\($d)  \(.)"' inventory.json | sha512sum -c
  Every line must say OK, and no file may be there that is not listed.

TO FIND A JOB: search the issue.json files, for example
  grep -ril "part of the address" --include=issue.json .

THE CHAIN
  Each issue.json has a "sequence" (1, 2, 3 ... over the whole archive) and in
  "previous" the SHA-512 digest of the issue.json before it (zeros for the
  first). "files" lists the other content files with HMAC-SHA-512 digests,
  keyed with "salt"; to work one out:
    openssl dgst -sha512 -mac HMAC -macopt hexkey:SALT v1/content/job.toml
  The first record's "root_files" has the digests of this page and of
  ocfl_layout.json.

WHAT THIS PROVES
  Digests find accidents. They do not stop a person who can write here, for
  he can write new digests too. So every certificate prints the first 32
  digits of the digest of the record before it. A certificate that a client
  still holds is a witness: find the issue.json of its number and revision;
  its "previous" must begin with the printed digits, and the issue.json with
  the sequence one lower must have that SHA-512 digest.

WHAT IS NOT HERE
  The folder beside this one whose name ends in ".work" holds a lock, half
  finished work and a search index. It can be deleted when nobody is issuing;
  nothing of value is in it, except what a repair has moved to its "aside".
)README";

constexpr std::string_view kLayoutText = R"({
  "extension": "0002-flat-direct-storage-layout",
  "description": "Each job is a folder in this folder, named by its certificate number in lower case"
}
)";

}  // namespace

std::vector<File> root_files() {
  return {{std::string(kRootDeclaration), "ocfl_1.1\n"},
          {std::string(kLayoutFile), std::string(kLayoutText)},
          {std::string(kReadme), std::string(kReadmeText)}};
}

bool make_root(Store& store, FsError& error) {
  if (store.root_fd.valid()) return true;
  const std::optional<std::string> random = random_hex(8);
  if (!random) {
    error = {0, "the system gives no random numbers"};
    return false;
  }
  const std::string name = "root." + *random;
  {
    const Fd fresh = make_folder(store.staging_fd.get(), name, error);
    if (!fresh.valid()) return false;
    for (const File& file : root_files()) {
      if (!write_new(fresh.get(), file.name, file.bytes, error)) return false;
    }
    if (!sync_folder(fresh.get(), error)) return false;
  }
  const Fd parent = open_folder(store.root.parent_path(), error);
  if (!parent.valid()) return false;
  const std::string target = store.root.filename().string();
  // Over an empty folder a plain rename is still all or nothing: it fails if anything is inside.
  if (!rename_over(store.staging_fd.get(), name, parent.get(), target, error)) return false;
  if (!sync_folder(parent.get(), error)) return false;
  store.root_fd = open_folder_beneath(parent.get(), target, error);
  return store.root_fd.valid();
}

}  // namespace ohmleaf::archive
