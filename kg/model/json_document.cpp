#include "kg/model/json_document.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <vector>

namespace saggar {

namespace {

std::uint32_t count_code_points(std::string_view text) {
    return static_cast<std::uint32_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

}  // namespace

Place place_in_text(std::string_view text, std::string_view file, std::size_t begin, std::size_t end) {
    begin = std::min(begin, text.size());
    const std::string_view before = text.substr(0, begin);
    const std::size_t last_end = before.rfind('\n');
    const std::size_t line_begin = last_end == std::string_view::npos ? 0 : last_end + 1;
    std::string_view line = text.substr(line_begin, std::min(text.find('\n', begin), text.size()) - line_begin);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    const std::size_t column_byte = std::min(begin - line_begin, line.size());
    const std::size_t length = std::min(std::max(begin, end) - begin, line.size() - column_byte);
    Place place;
    place.file = std::string(file);
    place.line = static_cast<std::uint32_t>(std::count(before.begin(), before.end(), '\n')) + 1;
    place.column = count_code_points(line.substr(0, column_byte)) + 1;
    place.text = std::string(line);
    place.length = count_code_points(line.substr(column_byte, length));
    return place;
}

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
    if (found != slices.end()) return place_in_text(text_, file_, found->second.begin, found->second.end);
    Place whole;
    whole.file = file_;
    return whole;
}

// Receives the parser's events, builds the value, and walks a cursor of its own over the text to know where each
// token stands. The parser has already checked each token, so the cursor only has to find its end.
class JsonDocumentReader {
public:
    using json = nlohmann::json;
    using number_integer_t = json::number_integer_t;
    using number_unsigned_t = json::number_unsigned_t;
    using number_float_t = json::number_float_t;
    using string_t = json::string_t;
    using binary_t = json::binary_t;

    JsonDocumentReader(JsonDocument& document, Problems& problems) : document_(document), problems_(problems) {
        if (document_.text_.substr(0, 3) == "\xEF\xBB\xBF") cursor_ = 3;
    }

    bool null() { return put(nullptr, 4); }
    bool boolean(bool value) { return put(value, value ? 4 : 5); }
    bool number_integer(number_integer_t value) { return put(value, number_length()); }
    bool number_unsigned(number_unsigned_t value) { return put(value, number_length()); }
    bool number_float(number_float_t value, const string_t&) { return put(value, number_length()); }
    bool string(string_t& value) { return put(value, string_length()); }
    bool binary(binary_t&) { return false; }
    bool start_object(std::size_t) { return open(json::object()); }
    bool start_array(std::size_t) { return open(json::array()); }
    bool end_object() { return close(); }
    bool end_array() { return close(); }

    bool key(string_t& name) {
        const std::size_t length = string_length();
        Frame& frame = frames_.back();
        frame.key = name;
        const std::string pointer = JsonDocument::child(frame.pointer, name);
        if (!frame.seen.insert(name).second) {
            add("json-duplicate-key", cursor_, cursor_ + length,
                fmt::format("the key \"{}\" stands twice in the same object", name), "keep one of the two");
        } else {
            document_.keys_[pointer] = {cursor_, cursor_ + length};
        }
        cursor_ += length;
        return true;
    }

    bool parse_error(std::size_t position, const std::string& token, const json::exception&) {
        const std::size_t end = std::min(position, document_.text_.size());
        const bool at_end = position > document_.text_.size();
        const std::size_t begin = at_end || end == 0 ? end : end - 1;
        add("json-syntax", begin, begin + 1,
            at_end ? std::string("the JSON text ends too early")
                   : fmt::format("this is not JSON (RFC 8259); reading stopped at \"{}\"", shown(token)),
            "mend the text here: look for a missing comma, quote or bracket");
        return false;
    }

    json take() { return std::move(root_); }

private:
    struct Frame {
        json* value;
        std::string pointer;
        std::string key;
        std::set<std::string> seen;
    };

    // The last token read may be long or hold control signs: show a short clean piece.
    static std::string shown(const std::string& token) {
        std::string out;
        for (const char c : token.substr(token.size() > 24 ? token.size() - 24 : 0)) {
            const auto byte = static_cast<unsigned char>(c);
            if (byte >= 0x20 && byte < 0x7F) {
                out += c;
            } else {
                out += fmt::format("<{:02X}>", byte);
            }
        }
        return out;
    }

    void add(const char* id, std::size_t begin, std::size_t end, std::string message, std::string next) {
        Problem problem;
        problem.id = id;
        problem.place = place_in_text(document_.text_, document_.file_, begin, end);
        problem.message = std::move(message);
        problem.next_step = std::move(next);
        problems_.add(std::move(problem));
    }

    void skip_to_token() {
        const std::size_t found = document_.text_.find_first_not_of(" \t\r\n,:", cursor_);
        cursor_ = std::min(found, document_.text_.size());
    }
    std::size_t number_length() {
        skip_to_token();
        const std::size_t end = document_.text_.find_first_not_of("+-.0123456789eE", cursor_);
        return std::min(end, document_.text_.size()) - cursor_;
    }
    std::size_t string_length() {
        skip_to_token();
        std::size_t end = cursor_ + 1;
        while (end < document_.text_.size() && document_.text_[end] != '"') end += document_.text_[end] == '\\' ? 2 : 1;
        return std::min(end + 1, document_.text_.size()) - cursor_;
    }

    // Puts a value where it belongs, notes its place, and gives its address back.
    json* attach(json value, std::size_t length, std::string& pointer) {
        skip_to_token();
        json* put_at = &root_;
        if (!frames_.empty()) {
            Frame& frame = frames_.back();
            if (frame.value->is_array()) {
                pointer = JsonDocument::child(frame.pointer, std::to_string(frame.value->size()));
                frame.value->push_back(nullptr);
                put_at = &frame.value->back();
            } else {
                pointer = JsonDocument::child(frame.pointer, frame.key);
                put_at = &(*frame.value)[frame.key];
            }
        }
        *put_at = std::move(value);
        document_.values_[pointer] = {cursor_, cursor_ + length};
        cursor_ += length;
        return put_at;
    }
    bool put(json value, std::size_t length) {
        std::string pointer;
        attach(std::move(value), length, pointer);
        return true;
    }
    bool open(json value) {
        if (frames_.size() >= JsonDocument::max_depth) {
            skip_to_token();
            add("json-too-deep", cursor_, cursor_ + 1,
                fmt::format("objects and arrays are nested more than {} deep", JsonDocument::max_depth),
                "flatten the document");
            return false;
        }
        std::string pointer;
        json* const at = attach(std::move(value), 1, pointer);
        frames_.push_back(Frame{at, pointer, "", {}});
        return true;
    }
    bool close() {
        skip_to_token();
        ++cursor_;
        frames_.pop_back();
        return true;
    }

    JsonDocument& document_;
    Problems& problems_;
    json root_;
    std::vector<Frame> frames_;
    std::size_t cursor_ = 0;
};

std::optional<JsonDocument> JsonDocument::read(std::string_view text, std::string_view file, Problems& problems) {
    JsonDocument document;
    document.text_ = std::string(text);
    document.file_ = std::string(file);
    const std::size_t errors_before = problems.errors();
    JsonDocumentReader reader(document, problems);
    const bool whole = nlohmann::json::sax_parse(document.text_.begin(), document.text_.end(), &reader);
    if (!whole || problems.errors() != errors_before) return std::nullopt;
    document.root_ = std::make_shared<const nlohmann::json>(reader.take());
    return document;
}

}  // namespace saggar
