#include "importers/sink.h"

namespace saggar {

Place Origin::place_of(std::string_view field) const {
    for (const FieldPlace& known : fields) {
        if (known.field == field) {
            return Place{std::string(file), known.line, known.column, std::string(known.text), known.length};
        }
    }
    return Place{std::string(file), line, column, std::string(text), 0};
}

}  // namespace saggar
