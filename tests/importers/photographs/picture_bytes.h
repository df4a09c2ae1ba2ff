// Picture files made byte by byte after their standards, as small as their heads allow.
#pragma once

#include <string>

namespace saggar::test {

inline std::string big(std::uint64_t number, int bytes) {
    std::string out;
    for (int i = bytes - 1; i >= 0; --i) out += static_cast<char>(number >> (8 * i));
    return out;
}
inline std::string little(std::uint64_t number, int bytes) {
    std::string out;
    for (int i = 0; i < bytes; ++i) out += static_cast<char>(number >> (8 * i));
    return out;
}

// TIFF 6.0 / Exif 2.32: a header, a directory that leads to the Exif directory, and in it DateTimeOriginal (9003).
inline std::string exif(const std::string& date) {
    const std::string text = date + '\0';
    std::string out = std::string("II*\0", 4) + little(8, 4);
    out += little(1, 2) + little(0x8769, 2) + little(4, 2) + little(1, 4) + little(26, 4) + little(0, 4);
    out += little(1, 2) + little(0x9003, 2) + little(2, 2) + little(text.size(), 4) + little(44, 4) + little(0, 4);
    return out + text;
}

// T.81, B.2: SOI, perhaps APP1 with EXIF, a table, SOF0 with its size, SOS.
inline std::string jpeg(int width, int height, const std::string& exif_data = "") {
    std::string out = "\xFF\xD8";
    if (!exif_data.empty()) out += "\xFF\xE1" + big(exif_data.size() + 8, 2) + std::string("Exif\0\0", 6) + exif_data;
    out += "\xFF\xC4" + big(5, 2) + "abc";
    out += "\xFF\xC0" + big(17, 2) + '\x08' + big(static_cast<unsigned>(height), 2) +
           big(static_cast<unsigned>(width), 2) + std::string("\3\1\x11\0\2\x11\1\3\x11\1", 10);
    return out + "\xFF\xDA" + big(2, 2) + "\xFF\xD9";
}

inline std::string png_chunk(const std::string& type, const std::string& data) {
    return big(data.size(), 4) + type + data + "CRC4";
}
inline std::string png(int width, int height, const std::string& exif_data = "") {
    std::string out = "\x89PNG\r\n\x1A\n";
    out += png_chunk("IHDR", big(static_cast<unsigned>(width), 4) + big(static_cast<unsigned>(height), 4) +
                                 std::string("\x08\2\0\0\0", 5));
    if (!exif_data.empty()) out += png_chunk("eXIf", exif_data);
    return out + png_chunk("IEND", "");
}

}  // namespace saggar::test
