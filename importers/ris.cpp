#include "importers/ris.h"

#include <fmt/format.h>

#include <map>
#include <set>
#include <vector>

#include "importers/bib_fields.h"
#include "importers/bib_item.h"
#include "importers/csl.h"
#include "importers/line_input.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/time/edtf_read.h"

namespace saggar {
namespace {

// The first 60 bytes or so, cut between code points.
std::string beginning(std::string_view text) {
    std::size_t end = std::min<std::size_t>(60, text.size());
    while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) ++end;
    return std::string(text.substr(0, end));
}

struct RisLine {
    std::string tag;
    std::string text;
    Place place;
};

bool is_tag_line(std::string_view line) {
    const auto letter = [](char c) { return c >= 'A' && c <= 'Z'; };
    return line.size() >= 5 && letter(line[0]) && (letter(line[1]) || (line[1] >= '0' && line[1] <= '9')) &&
           line.substr(2, 3) == "  -" && (line.size() == 5 || line[5] == ' ');
}

class RisReader {
public:
    RisReader(TextInput& input, const Vocabulary& vocabulary, Sink& sink)
        : input_(input), lines_(input), vocabulary_(vocabulary), sink_(sink) {}

    void read() {
        std::vector<RisLine> record;
        std::string_view line;
        while (lines_.next(line)) {
            if (trim(line).empty()) continue;
            const Place place = place_in_line(input_.name(), lines_.number(), line, 0, line.size());
            if (!is_tag_line(line)) {
                if (record.empty()) {
                    wrong(place, "ris-no-tag", fmt::format("\"{}\" stands outside a record", beginning(line)),
                          "a record starts with `TY  - ` and its type");
                } else {
                    record.back().text += " " + std::string(trim(line));
                }
                continue;
            }
            RisLine tagged{std::string(line.substr(0, 2)), std::string(trim(line.substr(5))), place};
            if (tagged.tag == "TY" && !record.empty()) {
                wrong(place, "ris-no-end", "the record above is not ended", "write `ER  - ` behind it");
                record.clear();
            }
            if (tagged.tag == "ER") {
                put(record);
                record.clear();
            } else if (record.empty() && tagged.tag != "TY") {
                wrong(place, "ris-no-type", fmt::format("the record starts with {}, not with TY", tagged.tag),
                      "write `TY  - ` and the type first");
            } else {
                record.push_back(std::move(tagged));
            }
        }
        if (!record.empty())
            wrong(record.front().place, "ris-no-end", "the last record is not ended", "write `ER  - ` behind it");
    }

private:
    void wrong(Place place, std::string id, std::string message, std::string next) {
        input_.problems().add({std::move(id), Severity::error, std::move(place), std::move(message), std::move(next)});
    }

    static std::string text_of(const std::vector<RisLine>& record, std::string_view tag) {
        for (const RisLine& line : record) {
            if (line.tag == tag) return line.text;
        }
        return {};
    }

    void put(const std::vector<RisLine>& record) {
        if (record.empty()) return;
        std::string id = text_of(record, "ID");
        if (id.empty())
            id = fmt::format("{} {}", beginning(text_of(record, "AU")),
                             text_of(record, "PY") + beginning(text_of(record, "TI")));
        BibSource source(id, vocabulary_);
        FieldPlaces origin;
        origin.set_whole(record.front().place);
        if (!source.has_key())
            return wrong(record.front().place, "key-invalid", "no key can be made for this record",
                         "give it an `ID  - `");
        if (!keys_.insert(source_key_of_id(id, vocabulary_)).second) {
            return wrong(record.front().place, "ris-same-key", fmt::format("another record is called \"{}\" too", id),
                         "give the records IDs that differ");
        }
        const std::string_view known_type = csl_type_of_ris(record.front().text);
        const std::string csl_type(known_type.empty() ? "document" : known_type);
        std::vector<BibName> authors;
        std::map<std::string, std::vector<BibName>> names;
        std::map<std::string, std::string> texts;
        bool type_told = false;
        for (const RisLine& line : record) {
            if (line.tag == "TY" || line.tag == "ID" || line.tag == "EP" || line.text.empty()) continue;
            const std::string_view variable = csl_variable_of_ris(line.tag, csl_type);
            if (line.tag == "AU" || line.tag == "A1") {
                authors.push_back(name_of_ris(line.text));
            } else if (line.tag == "PY" || line.tag == "Y1" || line.tag == "DA") {
                origin.set("issued", line.place);
            } else if (variable == "editor" || variable == "translator") {
                names[std::string(variable)].push_back(name_of_ris(line.text));
            } else if (line.tag == "N1" && own_note(line, source, origin, type_told)) {
                continue;
            } else {
                std::string& text = texts[variable.empty() ? line.tag : std::string(variable)];
                if (!text.empty()) text += variable == "note" ? "\n" : "; ";
                text += line.text;
            }
        }
        if (!authors.empty()) source.set_authors(authors);
        for (const auto& [variable, list] : names) source.set_variable(variable, json_of_names(list));
        if (const std::string end = text_of(record, "EP"); !end.empty())
            texts["page"] += (texts["page"].empty() ? "" : "-") + end;
        if (const auto accessed = texts.find("accessed"); accessed != texts.end()) accessed->second = date_of_slashes(accessed->second);
        for (const auto& [variable, text] : texts) source.set_variable(variable, text);
        if (!type_told) source.set_type(csl_type);
        if (known_type.empty() || ris_type_of_csl(csl_type) != record.front().text)
            source.set_variable(ris_type_variable, record.front().text);
        if (const std::string date = date_of(record); !date.empty()) source.set_issued(date, origin, input_.problems(), text_of(record, "DA").rfind("///", 0) == 0);
        sink_.put(source.finish(), origin);
    }

    // "grade: works-record": ours. False: a note like any other.
    bool own_note(const RisLine& line, BibSource& source, FieldPlaces& origin, bool& type_told) {
        const std::size_t colon = line.text.find(": ");
        if (colon == std::string::npos) return false;
        const std::string column = line.text.substr(0, colon);
        const std::string_view value = std::string_view(line.text).substr(colon + 2);
        if (column == "csl-type") {
            source.set_type(value);
            return type_told = true;
        }
        if (column.substr(0, 4) == "csl:") {
            source.set_variable(std::string_view(column).substr(4), value);
            return true;
        }
        if (column != "private" && !is_source_column(column)) return false;
        origin.set(column, line.place);
        source.set_own(column, value, origin, input_.problems());
        return true;
    }

    static BibName name_of_ris(const std::string& text) {
        BibName name;
        const std::size_t comma = text.find(',');
        if (comma == std::string::npos || comma + 1 == text.size()) {
            name.literal = std::string(trim(text.substr(0, comma)));
        } else {
            // "Family, Given, Suffix"
            const std::vector<BibName> read = names_of_author(text);
            if (read.size() == 1 && !read.front().suffix.empty()) return read.front();
            name.family = std::string(trim(text.substr(0, comma)));
            name.given = std::string(trim(text.substr(comma + 1)));
        }
        return name;
    }

    // YYYY/MM/DD/other, where other may be EDTF as our writer puts it.
    static std::string date_of_slashes(const std::string& text) {
        if (text.find('/') == std::string::npos) return text;
        std::vector<std::string_view> parts;
        for (std::string_view rest = text; parts.size() < 3;) {
            const std::size_t slash = rest.find('/');
            parts.push_back(trim(rest.substr(0, slash)));
            rest = slash == std::string_view::npos ? std::string_view() : rest.substr(slash + 1);
            if (parts.size() == 3 && !rest.empty() && time::read_edtf(rest)) return std::string(rest);
        }
        std::string date(parts[0]);
        if (!parts[1].empty()) date += fmt::format("-{:0>2}", parts[1]);
        if (!parts[1].empty() && !parts[2].empty()) date += fmt::format("-{:0>2}", parts[2]);
        return date;
    }

    // DA before PY.
    static std::string date_of(const std::vector<RisLine>& record) {
        for (const std::string_view tag : {"DA", "PY", "Y1"}) {
            const std::string text = text_of(record, tag);
            if (!text.empty()) return date_of_slashes(text);
        }
        return {};
    }

    TextInput& input_;
    LineInput lines_;
    const Vocabulary& vocabulary_;
    Sink& sink_;
    std::set<std::string> keys_;
};

}  // namespace

void read_ris(TextInput& input, const ReadContext& context, Sink& sink) {
    RisReader(input, context.vocabulary, sink).read();
}

}  // namespace saggar
