#include "importers/jsonl.h"

#include "importers/line_input.h"
#include "importers/words.h"

namespace saggar {
namespace {

class JsonOrigin final : public Origin {
public:
    JsonOrigin(const RecordJsonReader& reader, std::uint32_t line) : reader_(reader), line_(line) {}
    std::uint32_t line() const override { return line_; }
    Place place_of(std::string_view field) const override { return reader_.place_of(field); }

private:
    const RecordJsonReader& reader_;
    std::uint32_t line_;
};

}  // namespace

void read_jsonl(TextInput& input, Sink& sink) {
    LineInput lines(input);
    RecordJsonReader reader;
    std::string_view line;
    while (lines.next(line)) {
        if (trim(line).empty()) continue;
        const TextLines text(input.name(), line, lines.number());
        auto read = reader.read(text, input.problems());
        if (!read) continue;
        const JsonOrigin origin(reader, lines.number());
        if (auto* entry = std::get_if<EntryHeader>(&*read)) {
            sink.begin_entry(std::move(*entry), origin);
        } else if (auto* document = std::get_if<DocumentLine>(&*read)) {
            sink.document(std::move(*document), origin);
        } else {
            sink.put(std::move(std::get<Record>(*read)), origin);
        }
    }
}

}  // namespace saggar
