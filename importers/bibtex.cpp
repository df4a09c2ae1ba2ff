#include "importers/bibtex.h"

#include <fmt/format.h>

#include <map>

#include "importers/bib_fields.h"
#include "importers/bib_item.h"
#include "importers/csl.h"
#include "importers/tex_text.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/model/text_lines.h"

namespace saggar {
namespace {

constexpr std::size_t deepest_braces = 1000;

struct BibField {
    std::string name;   // in small letters
    std::string value;  // as TeX
    Place place;
};

bool is_name_sign(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           static_cast<unsigned char>(c) >= 0x80 || std::string_view("-_:.+/*!?'").find(c) != std::string_view::npos;
}

class BibtexReader {
public:
    BibtexReader(const TextLines& lines, const Vocabulary& vocabulary, Sink& sink, Problems& problems)
        : lines_(lines), text_(lines.text()), vocabulary_(vocabulary), sink_(sink), problems_(problems) {
        static constexpr std::string_view months[] = {"jan", "feb", "mar", "apr", "may", "jun",
                                                      "jul", "aug", "sep", "oct", "nov", "dec"};
        for (std::size_t i = 0; i < 12; ++i) macros_[std::string(months[i])] = std::to_string(i + 1);
    }

    void read() {
        for (;;) {
            const std::size_t at = text_.find('@', at_);
            if (at == std::string_view::npos) return;
            at_ = at + 1;
            if (!entry(at)) skip_to_next_entry();
        }
    }

private:
    bool wrong(std::size_t begin, std::size_t end, std::string id, std::string message, std::string next) {
        problems_.add({std::move(id), Severity::error, lines_.place(begin, end), std::move(message), std::move(next)});
        return false;
    }

    bool wanted(std::string_view what) {
        const std::string found = at_ < text_.size() ? fmt::format("`{}`", sign_at(text_, at_)) : "the end of the file";
        return wrong(at_, at_ + 1, "bibtex-syntax", fmt::format("expected {}, found {}", what, found),
                     "mend the entry here: look for a missing comma or brace");
    }

    // After an error reading goes on at an "@" that starts a line.
    void skip_to_next_entry() {
        const std::size_t at = text_.find("\n@", at_);
        at_ = at == std::string_view::npos ? text_.size() : at + 1;
    }

    void blanks() {
        while (at_ < text_.size() &&
               (text_[at_] == ' ' || text_[at_] == '\t' || text_[at_] == '\n' || text_[at_] == '\r'))
            ++at_;
    }

    bool take(char sign) {
        blanks();
        if (at_ >= text_.size() || text_[at_] != sign) return false;
        ++at_;
        return true;
    }

    std::string_view name() {
        blanks();
        const std::size_t start = at_;
        while (at_ < text_.size() && is_name_sign(text_[at_])) ++at_;
        return text_.substr(start, at_ - start);
    }

    bool entry(std::size_t start) {
        const std::string type = fold(name());
        if (type.empty()) return true;  // a stray "@" in the text between entries
        blanks();
        const char open = at_ < text_.size() ? text_[at_] : '\0';
        if (type == "comment") return open == '{' ? skip_balanced() : true;
        if (open != '{' && open != '(') return true;
        const char close = open == '{' ? '}' : ')';
        if (type == "preamble") return skip_balanced();
        ++at_;
        if (type == "string") return macro() && (take(close) || wanted("the closing brace"));
        return source_entry(start, type, close);
    }

    bool skip_balanced() {
        const std::size_t start = at_;
        std::string untold;
        if (text_[at_] == '{') return braced(untold);
        const std::size_t close = text_.find(')', at_);
        if (close == std::string_view::npos)
            return wrong(start, start + 1, "bibtex-unclosed", "this is never closed", "add the closing parenthesis");
        at_ = close + 1;
        return true;
    }

    bool macro() {
        const std::string macro_name = fold(name());
        std::string text;
        if (!take('=')) return wanted("`=`");
        if (!value(text)) return false;
        macros_[macro_name] = text;
        return true;
    }

    bool source_entry(std::size_t start, const std::string& type, char close) {
        blanks();
        const std::size_t key_start = at_;
        while (at_ < text_.size() && text_[at_] != ',' && text_[at_] != close && text_[at_] != '\n') ++at_;
        const std::string key(trim(text_.substr(key_start, at_ - key_start)));
        const Place place = lines_.place(key_start, key_start + key.size());
        std::vector<BibField> fields;
        while (take(',')) {
            blanks();
            if (at_ < text_.size() && text_[at_] == close) break;
            BibField field;
            const std::size_t field_start = at_;
            const std::string_view field_name = name();
            field.name = fold(field_name);
            if (field.name.empty()) return wanted("the name of a field");
            if (!take('=')) return wanted("`=`");
            if (!value(field.value)) return false;
            field.place = lines_.place(field_start, at_);
            fields.push_back(std::move(field));
        }
        if (!take(close)) return wanted(fmt::format("`,` or `{}`", close));
        if (key.empty())
            return wrong(start, start + 1, "bibtex-no-key", "the entry has no key", "write @type{key, ...}");
        put(type, key, place, fields);
        return true;
    }

    bool value(std::string& out) {
        do {
            blanks();
            if (at_ >= text_.size()) return wanted("a value");
            if (text_[at_] == '{') {
                if (!braced(out)) return false;
            } else if (text_[at_] == '"') {
                if (!quoted(out)) return false;
            } else {
                const std::size_t start = at_;
                const std::string_view word = name();
                if (word.empty()) return wanted("a value in braces or quotes");
                const auto macro_text = macros_.find(fold(word));
                if (macro_text != macros_.end()) {
                    out += macro_text->second;
                } else if (word.find_first_not_of("0123456789") == std::string_view::npos) {
                    out += word;
                } else {
                    return wrong(start, at_, "bibtex-no-macro", fmt::format("\"{}\" is no macro", word),
                                 "put the text in braces, or define it with @string");
                }
            }
        } while (take('#'));
        return true;
    }

    // "{" balanced "}", without the outer braces.
    bool braced(std::string& out) {
        const std::size_t start = at_++;
        std::size_t depth = 1;
        for (; at_ < text_.size(); ++at_) {
            const char c = text_[at_];
            if (c == '\\' && at_ + 1 < text_.size()) {
                ++at_;
            } else if (c == '{' && ++depth > deepest_braces) {
                return wrong(at_, at_ + 1, "bibtex-too-deep", "the braces are nested more than 1000 deep",
                             "check that the file is what you meant to read");
            } else if (c == '}' && --depth == 0) {
                out += text_.substr(start + 1, at_ - start - 1);
                ++at_;
                return true;
            }
        }
        return wrong(start, start + 1, "bibtex-unclosed", "this brace is never closed", "add the closing brace");
    }

    // '"' balanced '"': quotes inside braces are text.
    bool quoted(std::string& out) {
        const std::size_t start = at_++;
        std::size_t depth = 0;
        for (; at_ < text_.size(); ++at_) {
            const char c = text_[at_];
            if (c == '\\' && at_ + 1 < text_.size() && text_[at_ + 1] != '"') {
                ++at_;
            } else if (c == '{') {
                ++depth;
            } else if (c == '}' && depth > 0) {
                --depth;
            } else if (c == '"' && depth == 0) {
                out += text_.substr(start + 1, at_ - start - 1);
                ++at_;
                return true;
            }
        }
        return wrong(start, start + 1, "bibtex-unclosed", "this quote is never closed", "add the closing quote");
    }

    void put(const std::string& type, const std::string& key, const Place& place, const std::vector<BibField>& fields) {
        BibSource source(key, vocabulary_);
        FieldPlaces origin;
        origin.set_whole(place);
        if (!source.has_key()) {
            problems_.add({"key-invalid", Severity::error, place, fmt::format("\"{}\" gives no key", key),
                           "use letters and digits in the key"});
            return;
        }
        const auto [earlier, fresh] = keys_.emplace(source_key_of_id(key, vocabulary_), key);
        if (!fresh) {
            problems_.add({"bibtex-same-key", Severity::error, place,
                           fmt::format("\"{}\" and \"{}\" become the same key", earlier->second, key),
                           "give the entries keys that differ"});
            return;
        }
        const std::string_view known_type = csl_type_of_bibtex(type);
        const std::string csl_type(known_type.empty() ? "document" : known_type);
        std::string date;
        std::string year;
        std::string month;
        for (const BibField& field : fields) {
            const std::string text = std::string(trim(text_of_tex(field.value)));
            const std::string column = field.name == "kind" ? "type" : field.name;
            origin.set(column == "date" ? "issued" : column, field.place);
            if (field.name == "author") {
                source.set_authors(names_of_tex(field.value));
            } else if (field.name == "date") {
                date = std::string(trim(field.value));  // EDTF has signs that TeX would take for its own
            } else if (field.name == "year") {
                year = text;
            } else if (field.name == "month") {
                month = text;
            } else if (field.name == "csltype") {
                source.set_type(text);
            } else if (field.name != "type" && field.name != "title" && field.name != "url" && field.name != "author" &&
                       (is_source_column(column) || column == "private")) {
                source.set_own(column, text, origin, problems_);
            } else {
                set_variable(source, field, csl_type, text);
            }
        }
        if (!has_field(fields, "csltype")) source.set_type(csl_type);
        if (date.empty() && !year.empty()) date = month.empty() ? year : date_of(year, month);
        if (!date.empty()) source.set_issued(date, origin, problems_);
        sink_.put(source.finish(), origin);
    }

    static bool has_field(const std::vector<BibField>& fields, std::string_view name) {
        for (const BibField& field : fields) {
            if (field.name == name) return true;
        }
        return false;
    }

    static std::string date_of(const std::string& year, const std::string& month) {
        const auto number = decimal(month);
        if (number && *number >= 1 && *number <= 12 && year.size() == 4)
            return fmt::format("{}-{:02}", year, static_cast<int>(*number));
        return month + " " + year;
    }

    static void set_variable(BibSource& source, const BibField& field, const std::string& csl_type,
                             const std::string& text) {
        const std::string_view variable = csl_variable_of_bibtex(field.name, csl_type);
        if (variable == "editor" || variable == "translator") {
            source.set_variable(variable, json_of_names(names_of_tex(field.value)));
        } else if (variable == "page") {
            std::string pages = text;
            for (std::size_t dash; (dash = pages.find("\u2013")) != std::string::npos;) pages.replace(dash, 3, "-");
            source.set_variable(variable, pages);
        } else {
            const bool ours = field.name.substr(0, 4) == "csl-";  // a variable as our writer keeps it
            const std::string_view own_name = std::string_view(field.name).substr(ours ? 4 : 0);
            source.set_variable(variable.empty() ? own_name : variable, text);
        }
    }

    // "Family, Given and {A Body} and Given Family": " and " outside braces parts names.
    static std::vector<BibName> names_of_tex(std::string_view tex) {
        std::vector<BibName> names;
        std::size_t depth = 0;
        std::size_t from = 0;
        const auto add = [&](std::string_view one) {
            one = trim(one);
            if (one.empty()) return;
            BibName name;
            const bool body = one.front() == '{' && one.back() == '}' && one.find('}') == one.size() - 1;
            const std::size_t comma = body ? std::string_view::npos : one.find(',');
            const std::size_t last_blank = one.rfind(' ');
            if (body || (comma == std::string_view::npos && last_blank == std::string_view::npos)) {
                name.literal = text_of_tex(one);
            } else if (comma != std::string_view::npos) {
                name.family = trim(text_of_tex(one.substr(0, comma)));
                name.given = trim(text_of_tex(one.substr(comma + 1)));
            } else {
                name.family = text_of_tex(one.substr(last_blank + 1));
                name.given = trim(text_of_tex(one.substr(0, last_blank)));
            }
            names.push_back(std::move(name));
        };
        for (std::size_t i = 0; i < tex.size(); ++i) {
            if (tex[i] == '\\') {
                ++i;
            } else if (tex[i] == '{') {
                ++depth;
            } else if (tex[i] == '}') {
                depth -= depth > 0;
            } else if (depth == 0 && i + 5 <= tex.size() && (tex[i] == ' ' || tex[i] == '\n') &&
                       tex.substr(i + 1, 3) == "and" && (tex[i + 4] == ' ' || tex[i + 4] == '\n')) {
                add(tex.substr(from, i - from));
                from = i + 5;
                i += 3;
            }
        }
        add(tex.substr(std::min(from, tex.size())));
        return names;
    }

    const TextLines& lines_;
    std::string_view text_;
    const Vocabulary& vocabulary_;
    Sink& sink_;
    Problems& problems_;
    std::size_t at_ = 0;
    std::map<std::string, std::string> macros_;
    std::map<std::string, std::string> keys_;
};

}  // namespace

void read_bibtex(TextInput& input, const ReadContext& context, Sink& sink) {
    const std::string text = input.rest();
    const TextLines lines(input.name(), text);
    BibtexReader(lines, context.vocabulary, sink, input.problems()).read();
}

}  // namespace saggar
