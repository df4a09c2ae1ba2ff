// One door to all formats: which one a file is in, and reading it.
//
// A format is told by the file's name, and where names are shared (.json, .xml, none) by how the content starts. The
// reader puts records into the sink and problems into the collection; whether anything is kept when there were errors
// is the caller's decision ("all or nothing": nothing).
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "importers/claim_rows.h"
#include "importers/text_input.h"

namespace saggar {

enum class Format : std::uint8_t {
    table, notes, json_lines, webvtt, srt, csl_json, bibtex, ris, iiif, ead, photographs, bag, turtle, trig, ntriples, nquads
};

struct ReadOptions {
    std::optional<Format> format;  // empty: told by name and content
    std::string source;            // key of the source where a file names none
    std::filesystem::path map;     // mapping document for tables and RDF
    std::string name;              // what problems call the file; empty: its path
    TextLimits limits;
};

// The word for a format on the command line, and back.
std::string_view format_name(Format format);
std::optional<Format> format_named(std::string_view word);
// All words, in order, for messages and help.
std::vector<std::string> format_names();

// Tells the format of a file by its name and the first bytes of its text. Nothing where neither tells.
std::optional<Format> detect_format(const std::filesystem::path& path, std::string_view head);

// Reads a file; or a folder, which is a bag (RFC 8493) where it holds a bagit.txt, else photographs. UsageFault where it
// cannot be opened.
void read_file(const std::filesystem::path& path, const ReadOptions& options, const ReadContext& context, Sink& sink,
               Problems& problems);

// The same for bytes in memory: the desk's forms, tests.
void read_bytes(std::string_view bytes, const std::filesystem::path& path, const ReadOptions& options,
                const ReadContext& context, Sink& sink, Problems& problems);

}  // namespace saggar
