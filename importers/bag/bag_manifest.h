// Manifests of bags (RFC 8493, sections 2.1.3 and 2.2.1): one line a file, its checksum and its path.
//
//   line     = checksum blanks path          blanks: spaces or tabs
//   checksum = hexadecimal, either case
//   path     = UTF-8 with "/" between its parts; in it %0A, %0D and %25 stand for LF, CR and %
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "importers/text_input.h"

namespace saggar {

struct BagFile {
    std::string checksum;  // lower case
    Place place;           // of its path in the manifest
};

// By path. Problems: a line that cannot be read (bag-manifest-line), a path that leads out of the bag or out of the part
// of it that the manifest speaks of (bag-path), a path that stands twice (bag-path-twice). `digits`: of a checksum.
// `payload`: paths must begin with "data/"; else they must not.
std::map<std::string, BagFile> read_bag_manifest(TextInput& input, std::size_t digits, bool payload);

// %0A, %0D and %25 (in either case) as the signs they stand for; other "%" stay.
std::string decode_bag_path(std::string_view written);
std::string encode_bag_path(std::string_view path);

// Why a path must not be followed; empty: it may be. Section 5.1: no absolute paths, no "..", no "~", and nothing another
// system would take for these.
std::string bag_path_danger(std::string_view path);

}  // namespace saggar
