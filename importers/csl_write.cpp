#include "importers/csl_write.h"

#include <algorithm>
#include <optional>

#include "importers/bib_item.h"
#include "importers/csl_fields.h"
#include "kg/model/json_tree.h"
#include "kg/model/json_write.h"

namespace saggar {
namespace {

struct PlainDate {
    std::string parts;  // "[1948,3,2]"
    std::string season;
    bool about = false;
};

// "1948", "1948-03", "1948-03-02", "1948-22", each perhaps with "~" at the end.
std::optional<PlainDate> plain_date(std::string_view text) {
    PlainDate date;
    if (!text.empty() && text.back() == '~') {
        date.about = true;
        text.remove_suffix(1);
    }
    const bool shape = (text.size() == 4 || text.size() == 7 || text.size() == 10) &&
                       text.find_first_not_of("0123456789-") == std::string_view::npos &&
                       text.find('-') == (text.size() == 4 ? std::string_view::npos : std::size_t{4}) &&
                       (text.size() < 10 || text[7] == '-');
    if (!shape || text.front() == '0') return std::nullopt;
    const auto number = [](std::string_view digits) {
        return std::string(digits.substr(std::min(digits.find_first_not_of('0'), digits.size() - 1)));
    };
    date.parts = "[" + number(text.substr(0, 4));
    if (text.size() == 7 && text[5] == '2') {
        if (text[6] < '1' || text[6] > '4') return std::nullopt;
        date.season = text.substr(6);
    } else if (text.size() >= 7) {
        date.parts += "," + number(text.substr(5, 2));
        if (text.size() == 10) date.parts += "," + number(text.substr(8, 2));
    }
    date.parts += "]";
    return date;
}

bool is_json(std::string_view text) {
    if (text.empty() || (text.front() != '[' && text.front() != '{')) return false;
    Problems untold(0);
    JsonTree tree;
    return tree.parse(TextLines("", text), untold);
}

// What was an object or a list under "custom" when it was read; "[1936]" is a text.
bool is_structure(std::string_view text) {
    return (text.substr(0, 1) == "{" || text.substr(0, 2) == "[{" || text.substr(0, 2) == "[[" || text.substr(0, 2) == "[\"") && is_json(text);
}

// Members of one object, with commas between.
class Members {
public:
    explicit Members(std::string& out) : out_(out) {}
    std::string& member(std::string_view name) {
        out_ += first_ ? '{' : ',';
        first_ = false;
        append_json_string(name, out_);
        out_ += ':';
        return out_;
    }
    void close() { out_ += first_ ? "{}" : "}"; }
    bool empty() const { return first_; }

private:
    std::string& out_;
    bool first_ = true;
};

}  // namespace

std::string csl_date_of(const std::string& edtf) {
    std::string out;
    const std::size_t slash = edtf.find('/');
    const auto start = plain_date(std::string_view(edtf).substr(0, slash));
    const auto end = slash == std::string::npos ? std::nullopt : plain_date(std::string_view(edtf).substr(slash + 1));
    const bool interval = slash != std::string::npos;
    if (start && (!interval || (end && end->about == start->about && start->season.empty() && end->season.empty()))) {
        out = "{\"date-parts\":[" + start->parts + (interval ? "," + end->parts : "") + "]";
        if (!start->season.empty()) out += ",\"season\":" + start->season;
        if (start->about) out += ",\"circa\":true";
        return out + "}";
    }
    out = "{\"raw\":";
    append_json_string(edtf, out);
    return out + "}";
}

void CslWriter::put(const Source& source) {
    const BibItem item = bib_item_of(source);
    std::string line;
    Members members(line);
    append_json_string(item.id, members.member("id"));
    append_json_string(is_csl_item_type(item.type) ? item.type : "document", members.member("type"));
    if (!item.authors.empty()) members.member("author") += item.author_parts.empty() ? json_of_names(item.authors) : item.author_parts;
    if (!item.issued.empty()) members.member("issued") += csl_date_of(item.issued);
    std::string custom;
    Members own(custom);
    for (const auto& [name, text] : item.own) append_json_string(text, own.member(name));
    if (item.is_private) own.member("private") += "true";
    for (const auto& [name, text] : item.variables) {
        const CslType type = csl_type(name);
        std::string& target = type == CslType::unknown || (name == "author" && !item.authors.empty())
                                  ? own.member(name)
                                  : members.member(name);
        if ((type == CslType::names || type == CslType::date) && is_json(text)) {
            target += text;
        } else if (type == CslType::date) {
            target += csl_date_of(text);
        } else if (type == CslType::unknown && is_structure(text)) {
            target += text;
        } else if (type == CslType::names) {
            target += json_of_names(names_of_author(text));
        } else {
            append_json_string(text, target);
        }
    }
    own.close();
    if (!own.empty()) members.member("custom") += custom;
    members.close();
    out_ << (any_ ? ",\n" : "[\n") << line;
    any_ = true;
}

void CslWriter::finish() { out_ << (any_ ? "\n]\n" : "[]\n"); }

}  // namespace saggar
