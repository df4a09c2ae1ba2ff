#include "importers/bibtex.h"

#include <fmt/format.h>

#include <map>

#include "importers/bib_fields.h"
#include "importers/bib_item.h"
#include "importers/bib_names.h"
#include "importers/csl.h"
#include "importers/csl_fields.h"
#include "importers/tex_text.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/model/text_lines.h"

namespace saggar {
namespace {

constexpr std::size_t deepest_braces = 1000;

// The macros of the standard styles (Patashnik, "BibTeXing", 1988) by their first three letters.
constexpr std::string_view months[] = {"January", "February", "March",     "April",   "May",      "June",
                                       "July",    "August",   "September", "October", "November", "December"};

struct BibField {
    std::string name;   // in small letters
    std::string value;  // as TeX
    Place place;
};

struct BibEntry {
    std::string type;
    std::string key;
    Place place;
    std::vector<BibField> fields;
};

bool is_name_sign(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           static_cast<unsigned char>(c) >= 0x80 || std::string_view("-_:.+/*!?'").find(c) != std::string_view::npos;
}

class BibtexReader {
public:
    BibtexReader(const TextLines& lines, const Vocabulary& vocabulary, Sink& sink, Problems& problems)
        : lines_(lines), text_(lines.text()), vocabulary_(vocabulary), sink_(sink), problems_(problems) {
        for (const std::string_view month : months) macros_[fold(month.substr(0, 3))] = month;
    }

    void read() {
        for (;;) {
            const std::size_t at = text_.find('@', at_);
            if (at == std::string_view::npos) return read_children();
            at_ = at + 1;
            if (!entry(at)) skip_to_next_entry();
        }
    }

    // Children of a crossref, after all others: their parents may stand anywhere.
    void read_children() {
        for (BibEntry& child : children_) {
            for (const BibField& field : child.fields) {
                if (field.name == "crossref") inherit(child, field);
            }
            put(child.type, child.key, child.place, child.fields);
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
        if (has_crossrefs_) entries_.emplace(fold(key), BibEntry{type, key, place, fields});
        if (has_field(fields, "crossref")) {
            children_.push_back({type, key, place, std::move(fields)});
        } else {
            put(type, key, place, fields);
        }
        return true;
    }

    // A child takes the fields it has not itself from its parent; the parent's title is that of the book ("The biblatex
    // Package", appendix B).
    void inherit(BibEntry& child, const BibField& crossref) {
        const auto parent = entries_.find(fold(trim(crossref.value)));
        if (parent == entries_.end()) {
            problems_.add({"bibtex-crossref", Severity::warning, crossref.place,
                           fmt::format("\"{}\" is no entry of this file", trim(crossref.value)), "add the entry, or take the crossref out"});
            return;
        }
        std::vector<BibField> taken;
        const bool part = child.type != parent->second.type;
        for (BibField field : parent->second.fields) {
            if (field.name == "crossref" || field.name == "label" || field.name == "shorttitle") continue;
            if (part && field.name == "title") field.name = "booktitle";
            const bool dated = (field.name == "year" || field.name == "date") && (has_field(child.fields, "year") || has_field(child.fields, "date"));
            // The authors of a book are not those of a chapter in a collection.
            const bool authors = field.name == "author" && child.type != "inbook" && child.type != "bookinbook";
            if (!dated && !authors && !has_field(child.fields, field.name)) taken.push_back(std::move(field));
        }
        child.fields.insert(child.fields.end(), taken.begin(), taken.end());
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
            const std::string text(trim(is_verbatim_bibtex(field.name) ? text_of_verbatim(field.value) : text_of_tex(field.value)));
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
        if (bibtex_type_of_csl(csl_type) != type) source.set_variable(bibtex_type_variable, type);
        const bool is_edtf = !date.empty();  // as biblatex says of its date fields
        if (date.empty() && !year.empty()) date = month.empty() ? year : date_of(year, month);
        if (!date.empty()) source.set_issued(date, origin, problems_, is_edtf);
        sink_.put(source.finish(), origin);
    }

    static bool has_field(const std::vector<BibField>& fields, std::string_view name) {
        for (const BibField& field : fields) {
            if (field.name == name) return true;
        }
        return false;
    }

    // "3", "March", "mar.", "March 15", "15 March", "March~15".
    static std::string date_of(const std::string& year, const std::string& month) {
        std::string words = month;
        for (std::size_t at; (at = words.find("\u00a0")) != std::string::npos;) words.replace(at, 2, " ");
        int number = 0, day = 0;
        bool plain = year.size() == 4;
        for (std::string_view word : split_list(words, " ")) {
            while (!word.empty() && (word.back() == '.' || word.back() == ',')) word.remove_suffix(1);
            const auto digits = decimal(word);
            const std::string name = fold(word);
            int found = 0;
            for (int i = 0; i < 12; ++i)
                if (name.size() >= 3 && fold(months[i]).compare(0, name.size(), name) == 0) found = i + 1;
            if (found != 0 && number == 0)
                number = found;
            else if (digits && *digits >= 1 && *digits <= 31 && day == 0)
                day = static_cast<int>(*digits);
            else
                plain = false;
        }
        if (plain && number == 0 && day <= 12) std::swap(number, day);  // the number of the month alone
        if (!plain || number == 0) return month + " " + year;
        return day == 0 ? fmt::format("{}-{:02}", year, number) : fmt::format("{}-{:02}-{:02}", year, number, day);
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
            const std::string own_name = ours ? name_of_bibtex_name(std::string_view(field.name).substr(4))
                                         : csl_variable_of_folded(field.name).empty() ? field.name
                                                                                      : std::string(csl_variable_of_folded(field.name));
            source.set_variable(variable.empty() ? own_name : variable, text);
        }
    }

    const TextLines& lines_;
    std::string_view text_;
    const Vocabulary& vocabulary_;
    Sink& sink_;
    Problems& problems_;
    std::size_t at_ = 0;
    std::map<std::string, std::string> macros_;
    bool has_crossrefs_ = fold(text_).find("crossref") != std::string::npos;
    std::map<std::string, BibEntry> entries_;  // by folded key; only where there are crossrefs
    std::vector<BibEntry> children_;
    std::map<std::string, std::string> keys_;
};

}  // namespace

void read_bibtex(TextInput& input, const ReadContext& context, Sink& sink) {
    const std::string text = input.rest();
    const TextLines lines(input.name(), text);
    BibtexReader(lines, context.vocabulary, sink, input.problems()).read();
}

}  // namespace saggar
