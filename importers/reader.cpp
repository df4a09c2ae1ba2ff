#include "importers/reader.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/captions.h"
#include "importers/csl.h"
#include "importers/csvw/read_csvw.h"
#include "importers/jsonl.h"
#include "importers/notes.h"
#include "importers/own_table.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

struct FormatEntry {
    Format format;
    std::string_view name;
    std::vector<std::string_view> endings;
};

const std::vector<FormatEntry>& format_list() {
    static const std::vector<FormatEntry> list = {
        {Format::table, "table", {".csv", ".tsv", ".tab"}},
        {Format::notes, "notes", {".md", ".markdown"}},
        {Format::json_lines, "jsonl", {".jsonl", ".ndjson"}},
        {Format::webvtt, "webvtt", {".vtt"}},
        {Format::csl_json, "csl-json", {}},
    };
    return list;
}

bool starts_with(std::string_view text, std::string_view start) {
    return text.substr(0, start.size()) == start;
}

// Formats whose names end in .json are told by their first members.
std::optional<Format> format_of_json(std::string_view head) {
    if (starts_with(head, "[")) return Format::csl_json;
    return std::nullopt;
}

std::optional<Format> format_of_content(std::string_view head) {
    if (starts_with(head, "WEBVTT")) return Format::webvtt;
    if (starts_with(head, "[")) return format_of_json(head);
    for (const std::string_view word :
         {"entry", "entity", "source", "claim", "evidence", "list", "argument", "ruling", "withdrawal"}) {
        if (starts_with(head, fmt::format("{{\"{}\":", word))) return Format::json_lines;
    }
    if (is_own_table_header(head.substr(0, head.find('\n')))) return Format::table;
    return std::nullopt;
}

void read_input(TextInput& input, Format format, const ReadOptions& options, const ReadContext& context, Sink& sink) {
    switch (format) {
        case Format::table:
            return read_own_table(input, context, sink, options.source);
        case Format::notes:
            return read_notes(input, context, sink, options.source);
        case Format::json_lines:
            return read_jsonl(input, sink);
        case Format::webvtt:
            return read_captions(input, context, sink, options.source);
        case Format::csl_json:
            return read_csl(input, sink);
    }
}

void read_source(std::unique_ptr<ByteSource> bytes, const std::filesystem::path& path, const ReadOptions& options,
                 const ReadContext& context, Sink& sink, Problems& problems) {
    const std::string name = options.name.empty() ? path.string() : options.name;
    TextInput input(name, std::move(bytes), problems, options.limits);
    if (problems.any_error() && input.window().empty()) return;
    auto format = options.format ? options.format : detect_format(path, input.window());
    if (!format && !options.map.empty()) format = Format::table;
    if (format == Format::table) {
        // Our own tables need no metadata; any other may have some beside it.
        const bool own = is_own_table_header(input.window().substr(0, input.window().find('\n')));
        const std::filesystem::path map = !options.map.empty() || own ? options.map : csvw::find_metadata(path);
        if (!map.empty()) return csvw::read_csvw(input, path, map, context, sink, options.source);
    }
    if (!format) {
        problems.add({"format-unknown", Severity::error, Place{name, 0, 0, "", 0},
                      "neither the name nor the content tells the format",
                      fmt::format("say which with --as: {}", fmt::join(format_names(), ", "))});
        return;
    }
    read_input(input, *format, options, context, sink);
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
    const std::string_view text = trim(head.substr(0, 4096));
    for (const FormatEntry& entry : format_list()) {
        if (std::find(entry.endings.begin(), entry.endings.end(), ending) != entry.endings.end()) return entry.format;
    }
    return ending == ".json" ? format_of_json(text) : format_of_content(text);
}

void read_file(const std::filesystem::path& path, const ReadOptions& options, const ReadContext& context, Sink& sink,
               Problems& problems) {
    read_source(open_file(path), path, options, context, sink, problems);
}

void read_bytes(std::string_view bytes, const std::filesystem::path& path, const ReadOptions& options,
                const ReadContext& context, Sink& sink, Problems& problems) {
    read_source(open_bytes(bytes), path, options, context, sink, problems);
}

}  // namespace saggar
