#include "kg/model/json_document.h"

#include <nlohmann/json.hpp>
#include <utility>

#include "kg/model/json_tree.h"

namespace saggar {

std::string JsonDocument::child(const std::string& pointer, std::string_view name) {
    std::string out = pointer + '/';
    for (const char c : name) {
        if (c == '~') {
            out += "~0";
        } else if (c == '/') {
            out += "~1";
        } else {
            out += c;
        }
    }
    return out;
}

Place JsonDocument::place(const Slices& slices, const std::string& pointer) const {
    const auto found = slices.find(pointer);
    if (found != slices.end()) return TextLines(file_, text_).place(found->second.begin, found->second.end);
    Place whole;
    whole.file = file_;
    return whole;
}

// Makes the value from the tree and notes where its parts stand. Nesting was bounded by the tree, so this may recurse.
class JsonDocumentMaker {
public:
    JsonDocumentMaker(const JsonTree& tree, JsonDocument& document, const TextLines& lines, Problems& problems)
        : tree_(tree), document_(document), lines_(lines), problems_(problems) {}

    bool good() const { return good_; }

    nlohmann::json make(const JsonNode& node, const std::string& pointer) {
        document_.values_[pointer] = {node.begin, node.end};
        switch (node.type) {
            case JsonNode::Type::null: return nullptr;
            case JsonNode::Type::boolean: return node.truth;
            case JsonNode::Type::string: return std::string(node.text);
            case JsonNode::Type::number: return number(node);
            case JsonNode::Type::array: {
                nlohmann::json out = nlohmann::json::array();
                for (const JsonNode* part = tree_.first(node); part; part = tree_.next(*part)) {
                    out.push_back(make(*part, JsonDocument::child(pointer, std::to_string(out.size()))));
                }
                return out;
            }
            case JsonNode::Type::object: {
                nlohmann::json out = nlohmann::json::object();
                for (const JsonNode* part = tree_.first(node); part; part = tree_.next(*part)) {
                    const std::string below = JsonDocument::child(pointer, part->key);
                    document_.keys_[below] = {part->key_begin, part->key_end};
                    out[std::string(part->key)] = make(*part, below);
                }
                return out;
            }
        }
        return nullptr;
    }

private:
    nlohmann::json number(const JsonNode& node) {
        nlohmann::json out = nlohmann::json::parse(node.text, nullptr, false);
        if (!out.is_discarded()) return out;
        good_ = false;
        problems_.add({"json-number", Severity::error, lines_.place(node.begin, node.end), "the number is too large", "write a smaller one"});
        return nullptr;
    }

    const JsonTree& tree_;
    JsonDocument& document_;
    const TextLines& lines_;
    Problems& problems_;
    bool good_ = true;
};

std::optional<JsonDocument> JsonDocument::read(std::string_view text, std::string_view file, Problems& problems) {
    JsonDocument document;
    constexpr std::string_view mark = "\xEF\xBB\xBF";  // some editors put a byte order mark before UTF-8
    document.text_ = std::string(text.substr(0, mark.size()) == mark ? text.substr(mark.size()) : text);
    document.file_ = std::string(file);
    JsonTree tree;
    const TextLines lines(document.file_, document.text_);
    if (!tree.parse(lines, problems)) return std::nullopt;
    JsonDocumentMaker maker(tree, document, lines, problems);
    nlohmann::json root = maker.make(tree.root(), "");
    if (!maker.good()) return std::nullopt;
    document.root_ = std::make_shared<const nlohmann::json>(std::move(root));
    return document;
}

}  // namespace saggar
