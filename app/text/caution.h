// The usual caution where a glaze or treatment is shown that is flagged for what it may hold.
#pragma once

#include "app/verb.h"

namespace saggar::app {

void write_caution(Call& call);

}  // namespace saggar::app
