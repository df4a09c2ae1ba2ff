// Sources as RIS, so that ris.h reads back the same sources. Lines end with CR LF, as the format's description wants.
#pragma once

#include <ostream>

#include "kg/model/record.h"

namespace saggar {

class RisWriter {
public:
    explicit RisWriter(std::ostream& out) : out_(out) {}
    void put(const Source& source);
    void finish() {}

private:
    std::ostream& out_;
};

}  // namespace saggar
