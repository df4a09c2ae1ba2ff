// The origin of a record read from an object of a JSON file: fields are found by their member names.
#pragma once

#include "importers/sink.h"
#include "kg/model/json_tree.h"

namespace saggar {

class JsonTreeOrigin final : public Origin {
public:
    JsonTreeOrigin(const TextLines& lines, const JsonTree& tree, const JsonNode& object)
        : lines_(lines), tree_(tree), object_(object) {}
    std::uint32_t line() const override { return lines_.line_of(object_.begin); }
    Place place_of(std::string_view field) const override {
        const JsonNode* node = tree_.member(object_, field);
        return node ? lines_.place(node->begin, node->end) : lines_.place(object_.begin, object_.begin + 1);
    }

private:
    const TextLines& lines_;
    const JsonTree& tree_;
    const JsonNode& object_;
};

}  // namespace saggar
