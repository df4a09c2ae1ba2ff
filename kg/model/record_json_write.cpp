// The writing half of record_json.h.
#include "kg/model/json_write.h"
#include "kg/model/record_json.h"
#include "kg/model/record_json_words.h"

namespace saggar {
namespace {

// Writes the members of one record, sorted, empty ones left out.
class FieldWriter {
public:
    explicit FieldWriter(std::string& out) : out_(out) { out_ += '{'; }
    void close() { out_ += '}'; }

    void operator()(std::string_view name, const std::string& text, Need) {
        if (!text.empty()) append_json_string(text, member(name));
    }
    void operator()(std::string_view name, bool flag, Need) {
        if (flag) member(name) += "true";
    }
    void operator()(std::string_view name, double number, Need) { append_json_number(number, member(name)); }
    void operator()(std::string_view name, std::uint64_t number, Need) { member(name) += std::to_string(number); }
    void operator()(std::string_view name, const std::optional<double>& number, Need) {
        if (number) append_json_number(*number, member(name));
    }
    void operator()(std::string_view name, const std::optional<int>& number, Need) {
        if (number) member(name) += std::to_string(*number);
    }
    void operator()(std::string_view name, const ContentId& id, Need) {
        if (!id.empty()) append_json_string(id.full(), member(name));
    }
    void operator()(std::string_view name, Stance stance, Need) {
        append_json_string(json_stance_words[static_cast<int>(stance)], member(name));
    }
    void operator()(std::string_view name, Ruling::Decision decision, Need) {
        append_json_string(json_decision_words[static_cast<int>(decision)], member(name));
    }
    void operator()(std::string_view name, const Name& label, Need) {
        if (label != Name()) append(label, member(name));
    }
    template <class T>
    void operator()(std::string_view name, const std::vector<T>& list, Need) {
        if (list.empty()) return;
        char before = '[';
        member(name);
        for (const T& element : list) {
            out_ += before;
            append(element, out_);
            before = ',';
        }
        out_ += ']';
    }
    void operator()(std::string_view name, const std::vector<std::pair<std::string, std::string>>& pairs, Need) {
        if (pairs.empty()) return;
        member(name);
        FieldWriter inner(out_);
        for (const auto& [key, text] : pairs) append_json_string(text, inner.member(key));
        inner.close();
    }
    void operator()(std::string_view name, const Value& value, Need) {
        member(name);
        FieldWriter inner(out_);
        append_json_string(value.text, inner.member(json_value_words[static_cast<int>(value.type)]));
        inner("unit", value.unit, Need::optional);
        inner.close();
    }
    template <class R>
    void own_id(const R& record) {
        append_json_string(id_of(record).full(), member("id"));
    }

private:
    std::string& member(std::string_view name) {
        if (out_.back() != '{') out_ += ',';
        append_json_string(name, out_);
        out_ += ':';
        return out_;
    }
    static void append(const std::string& text, std::string& out) { append_json_string(text, out); }
    static void append(const ContentId& id, std::string& out) { append_json_string(id.full(), out); }
    static void append(const Name& label, std::string& out) {
        FieldWriter inner(out);
        inner("language", label.language, Need::optional);
        inner("text", label.text, Need::optional);
        inner.close();
    }
    static void append(const Copy& copy, std::string& out) {
        FieldWriter inner(out);
        inner("chance", copy.chance, Need::optional);
        inner("fidelity", copy.fidelity, Need::optional);
        inner("of", copy.of, Need::optional);
        inner.close();
    }

    std::string& out_;
};

template <class R>
void append_fields(const R& record, std::string& out) {
    FieldWriter writer(out);
    each_field(record, writer);
    writer.close();
}

}  // namespace

void append_json_fields(const Record& record, std::string& out) {
    std::visit([&](const auto& plain) { append_fields(plain, out); }, record);
}

void append_json_line(const Record& record, std::string& out) {
    std::visit(
        [&](const auto& plain) {
            out += "{\"";
            out += record_word(&plain);
            out += "\":";
            append_fields(plain, out);
            out += '}';
        },
        record);
}

std::string to_json_line(const Record& record) {
    std::string out;
    append_json_line(record, out);
    return out;
}

std::string to_json_line(const EntryHeader& entry) {
    std::string out = "{\"entry\":";
    append_fields(entry, out);
    out += '}';
    return out;
}

std::string to_json_line(const DocumentLine& document) {
    std::string out = "{\"document\":";
    append_fields(document, out);
    out += '}';
    return out;
}

}  // namespace saggar
