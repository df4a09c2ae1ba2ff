#include "importers/csl.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "importers/bib_item.h"
#include "importers/csl_fields.h"
#include "importers/csl_write.h"
#include "importers/json_tree_origin.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"
#include "kg/time/edtf_read.h"
#include "kg/time/edtf_write.h"

namespace saggar {
namespace {

struct OwnField {
    std::string_view variable;
    std::string Source::*field;
};

constexpr OwnField own_fields[] = {{"title", &Source::title},          {"archive", &Source::archive},
                                   {"archive-place", &Source::place},  {"archive_collection", &Source::collection},
                                   {"archive_location", &Source::box}, {"URL", &Source::url}};

class CslReader {
public:
    CslReader(const TextLines& lines, const JsonTree& tree, const Vocabulary& vocabulary, Sink& sink,
              Problems& problems)
        : lines_(lines), tree_(tree), vocabulary_(vocabulary), sink_(sink), problems_(problems) {}

    void read() {
        const JsonNode& root = tree_.root();
        if (!root.is(JsonNode::Type::array)) {
            wrong(root, "csl-no-array", "CSL-JSON is an array of items", "put the items in [ ]");
            return;
        }
        for (const JsonNode* item = tree_.first(root); item; item = tree_.next(*item)) read_item(*item);
    }

private:
    bool wrong(const JsonNode& node, std::string id, std::string message, std::string next,
               Severity severity = Severity::error) {
        problems_.add({std::move(id), severity, lines_.place(node.begin, std::min(node.end, node.begin + 200)),
                       std::move(message), std::move(next)});
        return false;
    }

    std::string raw(const JsonNode& node) const {
        // One line, so that every format gives it back; how deep it goes was bounded when the file was read.
        const auto text = lines_.text().substr(node.begin, node.end - node.begin);
        const auto read = nlohmann::ordered_json::parse(text, nullptr, false);
        return read.is_discarded() ? std::string(text) : read.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
    }

    static bool is_plain(const JsonNode& node) {
        return node.is(JsonNode::Type::string) || node.is(JsonNode::Type::number);
    }

    void read_item(const JsonNode& item) {
        if (!item.is(JsonNode::Type::object)) {
            wrong(item, "csl-no-item", fmt::format("an item is an object, not {}", name_of(item.type)),
                  "put it in { }");
            return;
        }
        const JsonNode* id = tree_.member(item, "id");
        if (!id || !is_plain(*id)) {
            wrong(id ? *id : item, "csl-no-id", "the item has no id", "give each item an id of its own");
            return;
        }
        Source source;
        source.key = source_key_of_id(id->text, vocabulary_);
        if (source.key.empty()) {
            wrong(*id, "key-invalid", fmt::format("\"{}\" gives no key", id->text), "use letters and digits in the id");
            return;
        }
        const auto [earlier, fresh] = ids_.emplace(source.key, std::string(id->text));
        if (!fresh) {
            wrong(*id, "csl-same-id",
                  fmt::format("\"{}\" and \"{}\" both become {}", earlier->second, id->text, source.key),
                  "give the items ids that differ in more than case and punctuation");
            return;
        }
        if (source.key != id->text && source.key != "source:" + std::string(id->text))
            source.more.emplace_back("id", id->text);
        bool good = true;
        for (const JsonNode* field = tree_.first(item); field; field = tree_.next(*field)) {
            good = read_field(*field, source) && good;
        }
        if (!good) return;
        // The type that follows from the kind anyway is not worth a field.
        const auto implied = [&](const std::pair<std::string, std::string>& one) {
            return one.first == "type" && one.second == csl_type_of_kind(source.type);
        };
        source.more.erase(std::remove_if(source.more.begin(), source.more.end(), implied), source.more.end());
        settle_more(source);
        sink_.put(std::move(source), JsonTreeOrigin(lines_, tree_, item));
    }

    bool read_field(const JsonNode& field, Source& source) {
        if (field.key == "id") return true;
        if (field.key == "custom") return read_custom(field, source);
        for (const OwnField& own : own_fields) {
            if (own.variable != field.key) continue;
            if (!is_plain(field))
                return wrong(field, "json-wrong-type",
                             fmt::format("\"{}\" is {}; a string is wanted", field.key, name_of(field.type)),
                             "change the value");
            source.*own.field = field.text;
            return true;
        }
        if (field.key == "issued") {
            if (read_date(field, source.issued)) return true;
            if (const JsonNode* text = tree_.member(field, "raw"); text && field.count == 1) {
                source.more.emplace_back("issued", text->text);
                return true;
            }
        } else if (field.key == "author") {
            if (read_names(field, source.author)) return true;
            // Parts that a text cannot give back: the text for people, the parts beside it.
            if (field.is(JsonNode::Type::array)) source.author = author_of_names(names_of_json(raw(field)));
        } else if (csl_type(field.key) == CslType::date) {
            if (std::string plain; is_plain_date(field, plain)) {
                source.more.emplace_back(field.key, std::move(plain));
                return true;
            }
        }
        source.more.emplace_back(field.key, field.is(JsonNode::Type::string) ? std::string(field.text) : raw(field));
        return true;
    }

    // Our own columns under `custom`; the rest is kept.
    bool read_custom(const JsonNode& custom, Source& source) {
        if (!custom.is(JsonNode::Type::object)) {
            return wrong(custom, "json-wrong-type", "\"custom\" is no object", "put name and value pairs in { }");
        }
        bool good = true;
        for (const JsonNode* field = tree_.first(custom); field; field = tree_.next(*field)) {
            const JsonTreeOrigin origin(lines_, tree_, custom);
            if (is_source_column(field->key) && field->key != "private" && is_plain(*field)) {
                good = set_source_field(source, field->key, field->text, origin, problems_) && good;
            } else if (field->key == "private" && field->is(JsonNode::Type::boolean)) {
                source.is_private = field->truth;
            } else {
                source.more.emplace_back(field->key,
                                         field->is(JsonNode::Type::string) ? std::string(field->text) : raw(*field));
            }
        }
        return good;
    }

    // Whether the date is told as well by EDTF, which the other formats take too: the writer makes the same parts of it again.
    bool is_plain_date(const JsonNode& date, std::string& edtf) const {
        const JsonNode* parts = tree_.member(date, "date-parts");
        const JsonNode* text = tree_.member(date, "raw");
        if (!parts && !text) return false;
        edtf = parts ? date_from_parts(date, *parts) : std::string(text->text);
        return nlohmann::json::parse(csl_date_of(edtf), nullptr, false) == nlohmann::json::parse(raw(date), nullptr, false);
    }

    // Into "Family, Given; Family, Given". False where a name has parts this form cannot give back.
    bool read_names(const JsonNode& names, std::string& out) {
        if (!names.is(JsonNode::Type::array)) return false;
        std::vector<BibName> read;
        for (const JsonNode* one = tree_.first(names); one; one = tree_.next(*one)) {
            BibName name;
            for (const JsonNode* part = tree_.first(*one); part; part = tree_.next(*part)) {
                std::string* const target = part->key == "family"    ? &name.family
                                            : part->key == "given"   ? &name.given
                                            : part->key == "literal" ? &name.literal
                                            : part->key == "suffix"  ? &name.suffix
                                                                     : nullptr;
                if (!target || !part->is(JsonNode::Type::string)) return false;
                *target = std::string(part->text);
            }
            read.push_back(std::move(name));
        }
        std::string joined = author_of_names(read);
        // What reads back as the same names is as good as the parts; a body whose name holds one comma is not.
        std::vector<BibName> again = names_of_author(joined);
        for (BibName& name : read) {
            if (name.given.empty() && name.literal.empty()) name = {"", "", name.family};
        }
        if (again != read) return false;
        out = std::move(joined);
        return true;
    }

    // date-parts, season, circa, or a text, into EDTF.
    bool read_date(const JsonNode& date, std::string& out) {
        std::string text;
        if (is_plain(date)) {
            text = date.text;
        } else if (const JsonNode* parts = tree_.member(date, "date-parts")) {
            text = date_from_parts(date, *parts);
        } else {
            for (const std::string_view key : {"edtf", "raw", "literal"}) {
                const JsonNode* value = tree_.member(date, key);
                if (value && text.empty()) text = value->text;
            }
        }
        if (tree_.member(date, "season") && is_season(text)) {
            out = std::move(text);
            return true;
        }
        Problems unread(1);
        auto read = date_of_words(text, "", "issued", PlainOrigin(Place()), unread);
        if (read) {
            out = std::move(*read);
            return true;
        }
        const std::string why = unread.list().empty() ? std::string() : unread.list().front().message;
        wrong(date, "csl-date", fmt::format("the date is kept as it is, for it cannot be read: {}", why),
              "write it as EDTF (\"1948~\") or as people do (\"about 1948\")", Severity::warning);
        return false;
    }

    std::string date_from_parts(const JsonNode& date, const JsonNode& parts) const {
        const JsonNode* circa = tree_.member(date, "circa");
        const bool about =
            circa && (circa->is(JsonNode::Type::boolean) ? circa->truth : circa->text != "0" && !circa->text.empty());
        const JsonNode* season = tree_.member(date, "season");
        std::string text;
        for (const JsonNode* one = tree_.first(parts); one; one = tree_.next(*one)) {
            if (!text.empty()) text += '/';
            int count = 0;
            for (const JsonNode* number = tree_.first(*one); number; number = tree_.next(*number)) {
                text += count++ == 0 ? fmt::format("{:0>4}", number->text) : fmt::format("-{:0>2}", number->text);
            }
            if (season && count == 1 && season->text.size() == 1) text += fmt::format("-2{}", season->text);
            if (about) text += '~';
        }
        return text;
    }

    const TextLines& lines_;
    const JsonTree& tree_;
    const Vocabulary& vocabulary_;
    Sink& sink_;
    Problems& problems_;
    std::map<std::string, std::string> ids_;
};

}  // namespace

std::string source_key_of_id(std::string_view id, const Vocabulary& vocabulary) {
    const auto parts = split_key(id);
    if (parts && vocabulary.find_kind(parts->kind)) return std::string(id);
    std::string key = "source:" + std::string(id);
    if (is_key(key)) return key;
    const std::string slug = slugify(id);
    return slug.empty() ? std::string() : "source:" + slug;
}

void read_csl(TextInput& input, const ReadContext& context, Sink& sink) {
    const std::string text = input.rest();
    const TextLines lines(input.name(), text);
    JsonTree tree;
    if (tree.parse(lines, input.problems())) CslReader(lines, tree, context.vocabulary, sink, input.problems()).read();
}

}  // namespace saggar
