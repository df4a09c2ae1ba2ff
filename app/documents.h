// The vocabulary and the weighing profile as files: reading them and saying what is wrong with them.
#pragma once

#include <string>

#include "app/verb.h"

namespace saggar::app {

// UsageFault where the file cannot be read.
std::string document_text(const std::string& path);

// Whether the document is sound: kinds, relations, time rules, inference rules; problems go to call.err.
// UsageFault for what is wrong with its time rules.
bool vocabulary_is_sound(const Call& call, const std::string& text, const std::string& path);
bool profile_is_sound(const Call& call, const std::string& text, const std::string& path);

}  // namespace saggar::app
