// Our own JSON Lines: one record a line (kg/model/record_json.h), with history where entry lines stand between them.
//
// Empty lines are passed over. Streaming; a line may be as long as the text limits allow.
#pragma once

#include "importers/sink.h"
#include "importers/text_input.h"

namespace saggar {

void read_jsonl(TextInput& input, Sink& sink);

}  // namespace saggar
