// Records as JSON, one a line: the full-fidelity form, for files and for `show --json`.
//
// A line is an object with one member named after the record: {"claim":{...}}. Members are sorted by name, there are
// no blanks, empty fields are left out, numbers are the shortest that read back the same: equal records give equal
// bytes. Records with a content id carry it as "id"; on reading it is checked against the content.
//
//   line     = entity | source | claim | evidence | list | argument | ruling | withdrawal | document | entry
//   entity   = {"entity":{"also":[name],"identifiers":[uri],"image":t,"key":key,"label":name,"private":true,"remark":t}}
//   name     = {"language":t,"text":t}
//   source   = {"source":{fields of Source by their names; "copied_from":[{"chance":n,"fidelity":n,"of":key}];
//               "more":{name:t}}}
//   claim    = {"claim":{"id":id,"object":value,"private":true,"relation":t,"scope":key,"subject":key,"when":edtf}}
//   value    = {"entity":key} | {"text":t} | {"number":t,"unit":t} | {"date":edtf}
//   evidence = {"evidence":{"claim":id,"source":key,"stance":"for"|"against",...}}
//   document = {"document":{"name":"vocabulary"|"profile","text":t}}
//   entry    = {"entry":{"author":t,"number":n,"reason":t,"time":t,"verb":t}}
//
// An entry line says that the records after it, up to the next entry line, were written by that entry of the history.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "kg/model/json_tree.h"
#include "kg/model/problem.h"
#include "kg/model/record.h"

namespace saggar {

// The head of one entry of the history.
struct EntryHeader {
    std::uint64_t number = 0;
    std::string time;  // RFC 3339, UTC
    std::string author;
    std::string verb;  // what was done: "load", "note", ...
    std::string reason;
    bool operator==(const EntryHeader&) const = default;
};

// A document of the graph that holds from an entry on: its vocabulary or its weighing profile.
struct DocumentLine {
    std::string name;  // "vocabulary" or "profile"
    std::string text;  // JSON, byte for byte as it was set
    bool operator==(const DocumentLine&) const = default;
};

// What a line holds.
using JsonLine = std::variant<EntryHeader, DocumentLine, Record>;

// Without a line end.
std::string to_json_line(const Record& record);
std::string to_json_line(const EntryHeader& entry);
std::string to_json_line(const DocumentLine& document);
void append_json_line(const Record& record, std::string& out);

// The record alone, without the outer object and its name: what stands after `{"claim":`.
void append_json_fields(const Record& record, std::string& out);

// Reads lines. Keeps its memory between lines; not thread-safe.
class RecordJsonReader {
public:
    // Nothing where the line is refused; the problems (ids json-...) say why.
    std::optional<JsonLine> read(const TextLines& line, Problems& problems);

    // The place of a field of the last line read, by its name there; of the whole line where it is not written.
    Place place_of(std::string_view field) const;

private:
    JsonTree tree_;
    const TextLines* line_ = nullptr;
};

}  // namespace saggar
