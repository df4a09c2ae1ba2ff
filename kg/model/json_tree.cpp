#include "kg/model/json_tree.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "kg/model/key.h"

namespace saggar {

// The grammar of RFC 8259 section 2, one function a rule; `value` is unrolled into a loop over a stack.
class JsonParser {
public:
    JsonParser(const TextLines& lines, JsonTree& out, Problems& problems)
        : lines_(lines), text_(lines.text()), out_(out), problems_(problems) {}

    bool document() {
        out_.nodes_.clear();
        out_.unescaped_.clear();
        if (text_.size() > JsonTree::longest) {
            return fail(0, 0, "json-too-long", "the text is longer than 2 GiB", "split it, or use JSON Lines");
        }
        if (!is_valid_utf8(text_)) {
            return fail(0, 0, "json-not-utf8", "the text is not valid UTF-8", "save it as UTF-8");
        }
        if (!values()) return false;
        blanks();
        if (at_ != text_.size()) {
            return fail(at_, at_ + 1, "json-trailing", fmt::format("unexpected {} after the value", sign_here()),
                        "keep one value only; several records belong in JSON Lines, one a line");
        }
        return true;
    }

private:
    struct Open {
        std::uint32_t node;
        std::uint32_t last_child = 0;
    };

    bool fail(std::size_t begin, std::size_t end, std::string id, std::string message, std::string next) {
        problems_.add({std::move(id), Severity::error, lines_.place(begin, end), std::move(message), std::move(next)});
        return false;
    }

    bool syntax(std::string_view wanted) {
        return fail(at_, at_ + 1, "json-syntax", fmt::format("expected {}, found {}", wanted, sign_here()),
                    "mend the JSON at this place");
    }

    std::string sign_here() const {
        if (at_ >= text_.size()) return "the end of the text";
        if (static_cast<unsigned char>(text_[at_]) < 0x20) {
            return fmt::format("the control U+{:04X}", static_cast<unsigned>(text_[at_]));
        }
        return fmt::format("`{}`", sign_at(text_, at_));
    }

    void blanks() {
        while (at_ < text_.size() &&
               (text_[at_] == ' ' || text_[at_] == '\n' || text_[at_] == '\r' || text_[at_] == '\t')) {
            ++at_;
        }
    }

    bool here(char sign) const { return at_ < text_.size() && text_[at_] == sign; }

    // Adds a node as the next child of the innermost open one.
    std::uint32_t add(JsonNode::Type type, const JsonNode& named) {
        const auto index = static_cast<std::uint32_t>(out_.nodes_.size());
        out_.nodes_.push_back(named);
        out_.nodes_.back().type = type;
        out_.nodes_.back().begin = static_cast<std::uint32_t>(at_);
        if (!open_.empty()) {
            Open& parent = open_.back();
            (parent.last_child ? out_.nodes_[parent.last_child].next : out_.nodes_[parent.node].first) = index;
            parent.last_child = index;
            ++out_.nodes_[parent.node].count;
        }
        return index;
    }

    bool values() {
        JsonNode named;
        for (bool want_value = true;;) {
            if (want_value) {
                blanks();
                if (!value(named, want_value)) return false;
                if (want_value) {  // a bracket was opened and is not empty
                    named = JsonNode();
                    if (out_.nodes_[open_.back().node].is(JsonNode::Type::object) && !name(named)) return false;
                    continue;
                }
            }
            if (open_.empty()) return true;
            blanks();
            const bool object = out_.nodes_[open_.back().node].is(JsonNode::Type::object);
            if (here(',')) {
                ++at_;
                named = JsonNode();
                if (object && !name(named)) return false;
                want_value = true;
            } else if (here(object ? '}' : ']')) {
                ++at_;
                if (!close()) return false;
            } else {
                return syntax(object ? "`,` or `}`" : "`,` or `]`");
            }
        }
    }

    // One value; `opened` tells whether it is a bracket whose content comes next.
    bool value(const JsonNode& named, bool& opened) {
        opened = false;
        if (at_ >= text_.size()) return syntax("a value");
        const char sign = text_[at_];
        if (sign == '{' || sign == '[') return open(named, sign == '{', opened);
        if (sign == '"') {
            const std::uint32_t index = add(JsonNode::Type::string, named);
            std::string_view text;
            if (!string(text)) return false;
            out_.nodes_[index].text = text;
            out_.nodes_[index].end = static_cast<std::uint32_t>(at_);
            return true;
        }
        if (sign == '-' || (sign >= '0' && sign <= '9')) return number(named);
        return word(named);
    }

    bool open(const JsonNode& named, bool object, bool& opened) {
        if (open_.size() >= JsonTree::deepest) {
            return fail(at_, at_ + 1, "json-too-deep",
                        fmt::format("the JSON is nested more than {} deep", JsonTree::deepest),
                        "check that the file is what you meant to read");
        }
        const std::uint32_t index = add(object ? JsonNode::Type::object : JsonNode::Type::array, named);
        open_.push_back({index});
        ++at_;
        blanks();
        if (here(object ? '}' : ']')) {
            ++at_;
            return close();
        }
        opened = true;
        return true;
    }

    bool close() {
        JsonNode& node = out_.nodes_[open_.back().node];
        node.end = static_cast<std::uint32_t>(at_);
        open_.pop_back();
        return !node.is(JsonNode::Type::object) || no_duplicates(node);
    }

    bool no_duplicates(const JsonNode& object) {
        members_.clear();
        for (const JsonNode* child = out_.first(object); child; child = out_.next(*child)) members_.push_back(child);
        std::sort(members_.begin(), members_.end(), [](const JsonNode* a, const JsonNode* b) {
            return a->key != b->key ? a->key < b->key : a->key_begin < b->key_begin;
        });
        for (std::size_t i = 1; i < members_.size(); ++i) {
            if (members_[i]->key != members_[i - 1]->key) continue;
            return fail(members_[i]->key_begin, members_[i]->key_end, "json-duplicate-key",
                        fmt::format("the member \"{}\" is given twice", members_[i]->key), "keep one of the two");
        }
        return true;
    }

    bool name(JsonNode& named) {
        blanks();
        if (!here('"')) return syntax("a member name in double quotes");
        named.key_begin = static_cast<std::uint32_t>(at_);
        if (!string(named.key)) return false;
        named.key_end = static_cast<std::uint32_t>(at_);
        blanks();
        if (!here(':')) return syntax("`:`");
        ++at_;
        return true;
    }

    bool word(const JsonNode& named) {
        static constexpr std::string_view words[] = {"true", "false", "null"};
        for (const std::string_view known : words) {
            if (text_.substr(at_, known.size()) != known) continue;
            const std::uint32_t index = add(known == "null" ? JsonNode::Type::null : JsonNode::Type::boolean, named);
            out_.nodes_[index].truth = known == "true";
            at_ += known.size();
            out_.nodes_[index].end = static_cast<std::uint32_t>(at_);
            return true;
        }
        return syntax("a value");
    }

    bool digits() {
        const std::size_t start = at_;
        while (at_ < text_.size() && text_[at_] >= '0' && text_[at_] <= '9') ++at_;
        return at_ > start;
    }

    bool number(const JsonNode& named) {
        const std::uint32_t index = add(JsonNode::Type::number, named);
        const std::size_t start = at_;
        if (here('-')) ++at_;
        if (here('0')) {
            ++at_;
        } else if (!digits()) {
            return syntax("a digit");
        }
        if (here('.')) {
            ++at_;
            if (!digits()) return syntax("a digit");
        }
        if (here('e') || here('E')) {
            ++at_;
            if (here('+') || here('-')) ++at_;
            if (!digits()) return syntax("a digit");
        }
        out_.nodes_[index].text = text_.substr(start, at_ - start);
        out_.nodes_[index].end = static_cast<std::uint32_t>(at_);
        return true;
    }

    bool string(std::string_view& out) {
        const std::size_t start = ++at_;
        while (at_ < text_.size() && text_[at_] != '"' && text_[at_] != '\\' &&
               static_cast<unsigned char>(text_[at_]) >= 0x20) {
            ++at_;
        }
        if (here('"')) {
            out = text_.substr(start, at_++ - start);
            return true;
        }
        std::string& built = out_.unescaped_.emplace_back(text_.substr(start, at_ - start));
        while (at_ < text_.size()) {
            const char sign = text_[at_];
            if (sign == '"') {
                ++at_;
                out = built;
                return true;
            }
            if (sign == '\n' || sign == '\r') break;
            if (static_cast<unsigned char>(sign) < 0x20) return syntax("the string to go on; controls are escaped");
            if (sign != '\\') {
                built += sign;
                ++at_;
            } else if (!escape(built)) {
                return false;
            }
        }
        return fail(start - 1, start, "json-unclosed-string", "this string is never closed", "add the closing quote");
    }

    bool escape(std::string& built) {
        const std::size_t start = at_++;
        static constexpr std::string_view names = "\"\\/bfnrt";
        static constexpr std::string_view signs = "\"\\/\b\f\n\r\t";
        if (at_ < text_.size()) {
            if (const auto known = names.find(text_[at_]); known != std::string_view::npos) {
                built += signs[known];
                ++at_;
                return true;
            }
        }
        std::uint32_t point = 0;
        if (!unit(point)) return bad_escape(start);
        if (point >= 0xDC00 && point <= 0xDFFF) return bad_escape(start);
        if (point >= 0xD800 && point <= 0xDBFF) {
            std::uint32_t low = 0;
            if (!here('\\')) return bad_escape(start);
            ++at_;
            if (!unit(low) || low < 0xDC00 || low > 0xDFFF) return bad_escape(start);
            point = 0x10000 + ((point - 0xD800) << 10) + (low - 0xDC00);
        }
        if (point == 0) return bad_escape(start);
        append(point, built);
        return true;
    }

    bool bad_escape(std::size_t start) {
        return fail(start, std::min(at_, text_.size()), "json-bad-escape",
                    fmt::format("`{}` is not an escape of JSON, or stands for no character of text",
                                text_.substr(start, std::min(at_, text_.size()) - start)),
                    "write the character itself, or \\uXXXX (a pair of them beyond U+FFFF)");
    }

    // `uXXXX`, the backslash already read.
    bool unit(std::uint32_t& point) {
        if (!here('u')) {
            at_ = std::min(at_ + 1, text_.size());
            return false;
        }
        ++at_;
        const std::size_t start = at_;
        while (at_ < text_.size() && at_ < start + 4 && is_hex(text_[at_])) ++at_;
        if (at_ != start + 4) return false;
        std::from_chars(text_.data() + start, text_.data() + at_, point, 16);
        return true;
    }

    static bool is_hex(char sign) {
        return (sign >= '0' && sign <= '9') || (sign >= 'a' && sign <= 'f') || (sign >= 'A' && sign <= 'F');
    }

    static void append(std::uint32_t point, std::string& out) {
        if (point < 0x80) {
            out += static_cast<char>(point);
        } else if (point < 0x800) {
            out += static_cast<char>(0xC0 | (point >> 6));
            out += static_cast<char>(0x80 | (point & 0x3F));
        } else if (point < 0x10000) {
            out += static_cast<char>(0xE0 | (point >> 12));
            out += static_cast<char>(0x80 | ((point >> 6) & 0x3F));
            out += static_cast<char>(0x80 | (point & 0x3F));
        } else {
            out += static_cast<char>(0xF0 | (point >> 18));
            out += static_cast<char>(0x80 | ((point >> 12) & 0x3F));
            out += static_cast<char>(0x80 | ((point >> 6) & 0x3F));
            out += static_cast<char>(0x80 | (point & 0x3F));
        }
    }

    const TextLines& lines_;
    std::string_view text_;
    JsonTree& out_;
    Problems& problems_;
    std::size_t at_ = 0;
    std::vector<Open> open_;
    std::vector<const JsonNode*> members_;
};

bool JsonTree::parse(const TextLines& text, Problems& problems) {
    return JsonParser(text, *this, problems).document();
}

const JsonNode* JsonTree::member(const JsonNode& object, std::string_view key) const {
    if (!object.is(JsonNode::Type::object)) return nullptr;
    for (const JsonNode* child = first(object); child; child = next(*child)) {
        if (child->key == key) return child;
    }
    return nullptr;
}

std::string_view name_of(JsonNode::Type type) {
    static constexpr std::string_view names[] = {"null", "a boolean", "a number", "a string", "an array", "an object"};
    return names[static_cast<int>(type)];
}

bool read_json_number(std::string_view text, double& number) {
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    return error == std::errc() && end == text.data() + text.size() && std::isfinite(number);
}

}  // namespace saggar
