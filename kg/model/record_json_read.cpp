// The reading half of record_json.h.
#include <algorithm>
#include <charconv>

#include <fmt/format.h>

#include "kg/model/record_json.h"
#include "kg/model/record_json_words.h"

namespace saggar {
namespace {

// Reads the members of one object. Each field looks for its member; what no field asked for is unknown.
class FieldReader {
public:
    FieldReader(const JsonTree& tree, const JsonNode& object, const TextLines& lines, Problems& problems)
        : tree_(tree), object_(object), lines_(lines), problems_(problems), here_(tree.first(object)) {}

    bool good() const { return good_; }

    void operator()(std::string_view name, std::string& text, Need need) {
        if (const JsonNode* node = find(name, need, JsonNode::Type::string)) text = node->text;
    }
    void operator()(std::string_view name, bool& flag, Need need) {
        if (const JsonNode* node = find(name, need, JsonNode::Type::boolean)) flag = node->truth;
    }
    void operator()(std::string_view name, double& number, Need need) {
        const JsonNode* node = find(name, need, JsonNode::Type::number);
        if (node && !read_json_number(node->text, number)) bad(*node, "is too large a number", "give a smaller number");
    }
    void operator()(std::string_view name, std::optional<double>& number, Need need) {
        const JsonNode* node = find(name, need, JsonNode::Type::number);
        if (node && !read_json_number(node->text, number.emplace())) {
            bad(*node, "is too large a number", "give a smaller number");
        }
    }
    void operator()(std::string_view name, std::uint64_t& number, Need need) { whole(name, number, need); }
    void operator()(std::string_view name, std::optional<int>& number, Need need) {
        int value = 0;
        if (whole(name, value, need)) number = value;
    }
    void operator()(std::string_view name, ContentId& id, Need need) {
        if (const JsonNode* node = find(name, need, JsonNode::Type::string)) read(*node, id);
    }
    void operator()(std::string_view name, Stance& stance, Need need) { word(name, json_stance_words, stance, need); }
    void operator()(std::string_view name, Ruling::Decision& decision, Need need) {
        word(name, json_decision_words, decision, need);
    }
    void operator()(std::string_view name, Name& label, Need need) {
        if (const JsonNode* node = find(name, need, JsonNode::Type::object)) read(*node, label);
    }
    template <class T>
    void operator()(std::string_view name, std::vector<T>& list, Need need) {
        const JsonNode* node = find(name, need, JsonNode::Type::array);
        if (!node) return;
        list.reserve(node->count);
        for (const JsonNode* child = tree_.first(*node); child; child = tree_.next(*child)) {
            read(*child, list.emplace_back());
        }
    }
    void operator()(std::string_view name, std::vector<std::pair<std::string, std::string>>& pairs, Need need) {
        const JsonNode* node = find(name, need, JsonNode::Type::object);
        if (!node) return;
        for (const JsonNode* child = tree_.first(*node); child; child = tree_.next(*child)) {
            if (is(*child, JsonNode::Type::string)) pairs.emplace_back(child->key, child->text);
        }
        std::sort(pairs.begin(), pairs.end());
    }
    void operator()(std::string_view name, Value& value, Need need) {
        const JsonNode* node = find(name, need, JsonNode::Type::object);
        if (!node) return;
        const std::size_t types = std::size(json_value_words);
        std::size_t type = 0;
        while (type < types && !tree_.member(*node, json_value_words[type])) ++type;
        if (type == types) {
            bad(*node, "is no object of a claim",
                R"(write {"entity":key}, {"text":...}, {"number":...} or {"date":...})");
            return;
        }
        value.type = static_cast<Value::Type>(type);
        FieldReader inner(tree_, *node, lines_, problems_);
        inner(json_value_words[type], value.text, Need::required);
        if (value.type == Value::Type::number) inner("unit", value.unit, Need::optional);
        inner.done();
        good_ = good_ && inner.good();
    }
    template <class R>
    void own_id(const R&) {
        if (const JsonNode* node = find("id", Need::optional, JsonNode::Type::string)) {
            read(*node, stated_);
            id_node_ = node;
        }
    }

    // Every member must have been asked for.
    void done() {
        if (found_ == object_.count) return;
        for (const JsonNode* child = tree_.first(object_); child; child = tree_.next(*child)) {
            if (std::find(known_.begin(), known_.end(), child->key) != known_.end()) continue;
            add(child->key_begin, child->key_end, "json-unknown-field", fmt::format("unknown field \"{}\"", child->key),
                fmt::format("fields here: {}", fmt::join(known_, ", ")));
        }
    }

    // The id that was written must be the id of what was read.
    void check_id(const ContentId& id) {
        if (!id_node_ || !good_ || stated_ == id) return;
        add(id_node_->begin, id_node_->end, "json-id-mismatch",
            fmt::format("the id \"{}\" is not that of this content, which is \"{}\"", id_node_->text, id.full()),
            "the line was altered after it was written: restore it, or take the id out");
    }

private:
    // Members are usually sorted like the fields, so the search starts where the last one ended.
    const JsonNode* find(std::string_view name, Need need, JsonNode::Type type) {
        known_.push_back(name);
        const JsonNode* node = here_ && here_->key == name ? here_ : tree_.member(object_, name);
        if (!node) {
            if (need == Need::required) {
                add(object_.begin, object_.begin + 1, "json-missing-field",
                    fmt::format("the field \"{}\" is missing", name), "add it");
            }
            return nullptr;
        }
        ++found_;
        here_ = tree_.next(*node);
        return is(*node, type) ? node : nullptr;
    }

    bool is(const JsonNode& node, JsonNode::Type type) {
        if (node.is(type)) return true;
        add(node.begin, node.end, "json-wrong-type",
            fmt::format("{} is {}; {} is wanted", node.key.empty() ? "this" : fmt::format("\"{}\"", node.key),
                        name_of(node.type), name_of(type)),
            "change the value");
        return false;
    }

    void bad(const JsonNode& node, std::string_view what, std::string next) {
        add(node.begin, node.end, "json-bad-value",
            fmt::format("{} {}", lines_.text().substr(node.begin, node.end - node.begin), what), std::move(next));
    }

    void add(std::size_t begin, std::size_t end, std::string id, std::string message, std::string next) {
        good_ = false;
        problems_.add({std::move(id), Severity::error, lines_.place(begin, end), std::move(message), std::move(next)});
    }

    template <class T>
    bool whole(std::string_view name, T& number, Need need) {
        const JsonNode* node = find(name, need, JsonNode::Type::number);
        if (!node) return false;
        const char* const last = node->text.data() + node->text.size();
        const auto [end, error] = std::from_chars(node->text.data(), last, number);
        if (error == std::errc() && end == last) return true;
        bad(*node, "is not a whole number in range", "give a whole number");
        return false;
    }

    template <class E, std::size_t n>
    void word(std::string_view name, const std::string_view (&words)[n], E& value, Need need) {
        const JsonNode* node = find(name, need, JsonNode::Type::string);
        if (!node) return;
        for (std::size_t i = 0; i < n; ++i) {
            if (node->text == words[i]) {
                value = static_cast<E>(i);
                return;
            }
        }
        bad(*node, fmt::format("is not a {}", name), fmt::format("use one of: {}", fmt::join(words, ", ")));
    }

    void read(const JsonNode& node, std::string& text) {
        if (is(node, JsonNode::Type::string)) text = node.text;
    }
    void read(const JsonNode& node, ContentId& id) {
        if (!is(node, JsonNode::Type::string)) return;
        const auto parsed = parse_content_id(node.text);
        if (parsed) {
            id = *parsed;
        } else {
            bad(node, "is not an id", "an id has 26 characters, digits and letters without i, l, o, u");
        }
    }
    void read(const JsonNode& node, Name& label) {
        if (!is(node, JsonNode::Type::object)) return;
        FieldReader inner(tree_, node, lines_, problems_);
        inner("language", label.language, Need::optional);
        inner("text", label.text, Need::required);
        inner.done();
        good_ = good_ && inner.good();
    }
    void read(const JsonNode& node, Copy& copy) {
        if (!is(node, JsonNode::Type::object)) return;
        FieldReader inner(tree_, node, lines_, problems_);
        inner("chance", copy.chance, Need::optional);
        inner("fidelity", copy.fidelity, Need::optional);
        inner("of", copy.of, Need::required);
        inner.done();
        good_ = good_ && inner.good();
    }

    const JsonTree& tree_;
    const JsonNode& object_;
    const TextLines& lines_;
    Problems& problems_;
    const JsonNode* here_;
    std::vector<std::string_view> known_;
    std::uint32_t found_ = 0;
    bool good_ = true;
    ContentId stated_;
    const JsonNode* id_node_ = nullptr;
};

template <class R>
concept Identified = requires(const R& record) {
    id_of(record);
};

template <class R>
std::optional<JsonLine> read_as(const JsonTree& tree, const JsonNode& node, const TextLines& line,
                                Problems& problems) {
    R record;
    FieldReader reader(tree, node, line, problems);
    each_field(record, reader);
    reader.done();
    if constexpr (Identified<R>) reader.check_id(id_of(record));
    if (!reader.good()) return std::nullopt;
    if constexpr (std::same_as<R, EntryHeader> || std::same_as<R, DocumentLine>) {
        return JsonLine(std::move(record));
    } else {
        return JsonLine(Record(std::move(record)));
    }
}

using LineReader = std::optional<JsonLine> (*)(const JsonTree&, const JsonNode&, const TextLines&, Problems&);

struct LineKind {
    std::string_view word;
    LineReader read;
};

template <class R>
constexpr LineKind kind_of_line() {
    return {record_word(static_cast<const R*>(nullptr)), &read_as<R>};
}

constexpr LineKind line_kinds[] = {kind_of_line<Entity>(),   kind_of_line<Source>(),     kind_of_line<Claim>(),
                                   kind_of_line<Evidence>(), kind_of_line<Listing>(),    kind_of_line<Argument>(),
                                   kind_of_line<Ruling>(),   kind_of_line<Withdrawal>(), kind_of_line<EntryHeader>(),
                                   kind_of_line<DocumentLine>()};

}  // namespace

std::optional<JsonLine> RecordJsonReader::read(const TextLines& line, Problems& problems) {
    line_ = &line;
    if (!tree_.parse(line, problems)) return std::nullopt;
    const JsonNode& root = tree_.root();
    const JsonNode* only = root.is(JsonNode::Type::object) && root.count == 1 ? tree_.first(root) : nullptr;
    if (!only || !only->is(JsonNode::Type::object)) {
        problems.add({"json-no-record", Severity::error, line.place(root.begin, root.end),
                      "a line holds an object with one member that names its record",
                      R"(write for example {"entity":{"key":"shape:lantern"}})"});
        return std::nullopt;
    }
    std::vector<std::string_view> words;
    for (const LineKind& kind : line_kinds) {
        if (kind.word == only->key) return kind.read(tree_, *only, line, problems);
        words.push_back(kind.word);
    }
    problems.add({"json-no-record", Severity::error, line.place(only->key_begin, only->key_end),
                  fmt::format("\"{}\" is not a kind of record", only->key),
                  fmt::format("use one of: {}", fmt::join(words, ", "))});
    return std::nullopt;
}

Place RecordJsonReader::place_of(std::string_view field) const {
    const JsonNode& root = tree_.root();
    const JsonNode* record = tree_.first(root);
    const JsonNode* node = record ? tree_.member(*record, field) : nullptr;
    return node ? line_->place(node->begin, node->end) : line_->place(root.begin, root.end);
}

}  // namespace saggar
