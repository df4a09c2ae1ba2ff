#include "importers/reader.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/bag/bag_check.h"
#include "importers/bag/read_bag.h"
#include "importers/bibtex.h"
#include "importers/captions.h"
#include "importers/csl.h"
#include "importers/csvw/read_csvw.h"
#include "importers/ead/ead.h"
#include "importers/iiif.h"
#include "importers/jsonl.h"
#include "importers/notes.h"
#include "importers/own_table.h"
#include "importers/photographs/photographs.h"
#include "importers/rdf/read_rdf.h"
#include "importers/ris.h"
#include "importers/srt.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

// What a reader of one format gets.
struct Reading {
    TextInput& input;
    const std::filesystem::path& path;
    const ReadOptions& options;
    const ReadContext& context;
    Sink& sink;
    const rdf::SourceLines::Open& open;  // the same bytes once more
};

void read_table(const Reading& r) {
    // Our own tables need no metadata; any other may have some beside it.
    const bool own = is_own_table_header(r.input.window().substr(0, r.input.window().find('\n')));
    const std::filesystem::path map = !r.options.map.empty() || own ? r.options.map : csvw::find_metadata(r.path);
    if (map.empty()) return read_own_table(r.input, r.context, r.sink, r.options.source);
    csvw::read_csvw(r.input, r.path, map, r.context, r.sink, r.options.source);
}

struct FormatEntry {
    Format format;
    std::string_view name;
    std::vector<std::string_view> endings;
    std::string_view start;  // what the content starts with, where the name does not tell
    void (*read)(const Reading&);
};

template <rdf::Syntax syntax>
void read_rdf_as(const Reading& r) {
    rdf::read_rdf({r.input, syntax, r.path, r.open, r.options.map, r.options.source}, r.context, r.sink);
}

void needs_folder(const Reading& r) {
    r.input.problems().add({"format-needs-folder", Severity::error, Place{r.input.name(), 0, 0, "", 0},
                            fmt::format("{} are read from a folder, and this is a file", format_name(*r.options.format)),
                            "name the folder"});
}

// One line a format.
const std::vector<FormatEntry>& format_list() {
    static const std::vector<FormatEntry> list = {
        {Format::table, "table", {".csv", ".tsv", ".tab"}, "", read_table},
        {Format::notes,
         "notes",
         {".md", ".markdown"},
         "",
         [](const Reading& r) { read_notes(r.input, r.context, r.sink, r.options.source); }},
        {Format::json_lines, "jsonl", {".jsonl", ".ndjson"}, "", [](const Reading& r) { read_jsonl(r.input, r.sink); }},
        {Format::webvtt,
         "webvtt",
         {".vtt"},
         "WEBVTT",
         [](const Reading& r) { read_captions(r.input, r.context, r.sink, r.options.source); }},
        {Format::srt,
         "srt",
         {".srt"},
         "",
         [](const Reading& r) { read_srt(r.input, r.context, r.sink, r.options.source); }},
        {Format::csl_json, "csl-json", {}, "[", [](const Reading& r) { read_csl(r.input, r.context, r.sink); }},
        {Format::bibtex, "bibtex", {".bib"}, "@", [](const Reading& r) { read_bibtex(r.input, r.context, r.sink); }},
        {Format::ris, "ris", {".ris"}, "TY  - ", [](const Reading& r) { read_ris(r.input, r.context, r.sink); }},
        {Format::iiif,
         "iiif",
         {},
         "",
         [](const Reading& r) { read_iiif(r.input, r.context, r.sink, r.options.source); }},
        {Format::ead,
         "ead",
         {},
         "",
         [](const Reading& r) { read_ead(r.input, r.context, r.sink, r.options.source); }},
        {Format::photographs, "photographs", {}, "", needs_folder},
        {Format::bag, "bag", {}, "", needs_folder},
        {Format::turtle, "turtle", {".ttl"}, "", read_rdf_as<rdf::Syntax::turtle>},
        {Format::trig, "trig", {".trig"}, "@prefix ", read_rdf_as<rdf::Syntax::trig>},
        {Format::ntriples, "ntriples", {".nt"}, "", read_rdf_as<rdf::Syntax::ntriples>},
        {Format::nquads, "nquads", {".nq"}, "", read_rdf_as<rdf::Syntax::nquads>},
    };
    return list;
}

bool starts_with(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }

std::optional<Format> format_of_content(std::string_view head) {
    for (const std::string_view word :
         {"entry", "document", "entity", "source", "claim", "evidence", "list", "argument", "ruling", "withdrawal"}) {
        if (starts_with(head, fmt::format("{{\"{}\":", word))) return Format::json_lines;
    }
    if (starts_with(head, "{") && head.find("iiif.io/api/presentation/") != std::string_view::npos) return Format::iiif;
    if (is_ead_start(head)) return Format::ead;
    for (const FormatEntry& entry : format_list()) {
        if (!entry.start.empty() && starts_with(head, entry.start)) return entry.format;
    }
    if (is_own_table_header(head.substr(0, head.find('\n')))) return Format::table;
    return std::nullopt;
}

void read_source(const rdf::SourceLines::Open& open, const std::filesystem::path& path, const ReadOptions& options,
                 const ReadContext& context, Sink& sink, Problems& problems) {
    const std::string name = options.name.empty() ? path.string() : options.name;
    TextInput input(name, open(), problems, options.limits);
    if (problems.any_error() && input.window().empty()) return;
    auto format = options.format ? options.format : detect_format(path, input.window());
    if (!format && !options.map.empty()) format = Format::table;
    if (!format) {
        problems.add({"format-unknown", Severity::error, Place{name, 0, 0, "", 0},
                      "neither the name nor the content tells the format",
                      fmt::format("say which with --as: {}", fmt::join(format_names(), ", "))});
        return;
    }
    for (const FormatEntry& entry : format_list()) {
        if (entry.format == *format) return entry.read({input, path, options, context, sink, open});
    }
}

void read_folder(const std::filesystem::path& path, const ReadOptions& options, const ReadContext& context, Sink& sink,
                 Problems& problems) {
    const std::string name = options.name.empty() ? path.string() : options.name;
    const Format format = options.format.value_or(is_bag(path) ? Format::bag : Format::photographs);
    if (format == Format::bag) return read_bag(path, name, options.limits, sink, problems);
    if (format == Format::photographs) return read_photographs(path, name, options, context, sink, problems);
    problems.add({"format-needs-file", Severity::error, Place{name, 0, 0, "", 0},
                  fmt::format("{} is read from a file, and this is a folder", format_name(format)), "name the files in it"});
}

}  // namespace

std::string_view format_name(Format format) {
    for (const FormatEntry& entry : format_list()) {
        if (entry.format == format) return entry.name;
    }
    return {};
}

std::optional<Format> format_named(std::string_view word) {
    for (const FormatEntry& entry : format_list()) {
        if (entry.name == word) return entry.format;
    }
    return std::nullopt;
}

std::vector<std::string> format_names() {
    std::vector<std::string> names;
    for (const FormatEntry& entry : format_list()) names.emplace_back(entry.name);
    return names;
}

std::optional<Format> detect_format(const std::filesystem::path& path, std::string_view head) {
    const std::string ending = fold(path.extension().string());
    for (const FormatEntry& entry : format_list()) {
        if (std::find(entry.endings.begin(), entry.endings.end(), ending) != entry.endings.end()) return entry.format;
    }
    return format_of_content(trim(head.substr(0, 4096)));
}

void read_file(const std::filesystem::path& path, const ReadOptions& options, const ReadContext& context, Sink& sink,
               Problems& problems) {
    if (std::filesystem::is_directory(path)) return read_folder(path, options, context, sink, problems);
    read_source([&path] { return open_file(path); }, path, options, context, sink, problems);
}

void read_bytes(std::string_view bytes, const std::filesystem::path& path, const ReadOptions& options,
                const ReadContext& context, Sink& sink, Problems& problems) {
    read_source([bytes] { return open_bytes(bytes); }, path, options, context, sink, problems);
}

}  // namespace saggar
