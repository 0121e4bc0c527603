// Bodies of text_file.hpp.
// SPDX-License-Identifier: BSD-3-Clause
#include <zlib.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <random>
#include <system_error>
#include <utility>

#include "faultodds/io/text_file.hpp"

#if defined(__unix__) || defined(__APPLE__)
#include <unistd.h>
#endif

namespace faultodds {
namespace detail {

[[noreturn]] inline void refuse_file(const std::filesystem::path& path, std::string found, std::string remedy) {
  throw ModelError({Problem{"", std::move(found), std::move(remedy)}}, path.string());
}

inline std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
  const auto follows = [&](std::size_t i) { return byte(i) >= 0x80U && byte(i) <= 0xBFU; };
  const unsigned first = byte(0);
  const unsigned second = byte(1);
  if (first < 0x80U) return text.empty() ? 0 : 1;
  if (first >= 0xC2U && first <= 0xDFU) return follows(1) ? 2 : 0;
  if (first >= 0xE0U && first <= 0xEFU) {
    const bool overlong = first == 0xE0U && second < 0xA0U;
    const bool surrogate = first == 0xEDU && second > 0x9FU;
    return follows(1) && follows(2) && !overlong && !surrogate ? 3 : 0;
  }
  if (first >= 0xF0U && first <= 0xF4U) {
    const bool overlong = first == 0xF0U && second < 0x90U;
    const bool beyond = first == 0xF4U && second > 0x8FU;
    return follows(1) && follows(2) && follows(3) && !overlong && !beyond ? 4 : 0;
  }
  return 0;
}

/// Offset of the first byte that is not part of UTF-8; the size of the text if all of it is.
[[nodiscard]] inline std::size_t utf8_extent(std::string_view text) {
  constexpr std::uint64_t high_bits = 0x8080808080808080U;
  std::size_t at = 0;
  while (at < text.size()) {
    std::uint64_t eight = high_bits;
    if (text.size() - at >= sizeof eight) std::memcpy(&eight, text.data() + at, sizeof eight);
    if ((eight & high_bits) == 0) {
      at += sizeof eight;
      continue;
    }
    const std::size_t length = utf8_length(text.substr(at));
    if (length == 0) break;
    at += length;
  }
  return at;
}

/// All bytes of a file as they are.
[[nodiscard]] inline std::string read_bytes(const std::filesystem::path& path, std::size_t max_bytes) {
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored)) refuse_file(path, "it is a directory", "name a file");
  errno = 0;
  std::ifstream stream(path, std::ios::binary);
  if (!stream) {
    refuse_file(path,
                "it cannot be opened" + (errno == 0 ? std::string() : ": " + std::generic_category().message(errno)),
                "check the path and the permission to read it");
  }
  std::string bytes;
  constexpr std::size_t min_block = std::size_t{1} << 16U;
  while (stream) {
    const std::size_t before = bytes.size();
    bytes.resize(before + std::max(min_block, before / 2));
    stream.read(bytes.data() + before, static_cast<std::streamsize>(bytes.size() - before));
    bytes.resize(before + static_cast<std::size_t>(stream.gcount()));
    if (bytes.size() > max_bytes) {
      throw TooLarge("the file " + path.string(), static_cast<double>(bytes.size()), static_cast<double>(max_bytes),
                     "raise the limit, or split the file");
    }
  }
  if (stream.bad()) refuse_file(path, "it cannot be read to its end", "check the medium it is on");
  return bytes;
}

/// Unpacks gzip, member after member, never beyond a limit.
class Unpacker {
 public:
  Unpacker(const std::filesystem::path& path, std::size_t max_bytes) : path_(path), max_bytes_(max_bytes) {
    if (inflateInit2(&stream_, 15 + 16) != Z_OK) refuse_file(path, "it cannot be unpacked", "there is no memory left");
  }
  Unpacker(const Unpacker&) = delete;
  Unpacker& operator=(const Unpacker&) = delete;
  Unpacker(Unpacker&&) = delete;
  Unpacker& operator=(Unpacker&&) = delete;
  ~Unpacker() { inflateEnd(&stream_); }

  [[nodiscard]] std::string unpack(std::string& packed) {
    std::string text;
    std::size_t used = 0;
    while (used < packed.size()) {
      const std::size_t portion = std::min(packed.size() - used, std::size_t{1} << 20U);
      // zlib takes its input through a pointer to non-const data, though it does not write there.
      stream_.next_in = reinterpret_cast<Bytef*>(packed.data() + used);
      stream_.avail_in = static_cast<uInt>(portion);
      step(text);
      used += portion - stream_.avail_in;
    }
    if (!at_end_) refuse_file(path_, "its gzip data end too early", "the file was cut short; get it again");
    return text;
  }

 private:
  /// Unpacks what is in `stream_.next_in`, at most to the end of a member.
  void step(std::string& text) {
    if (std::exchange(at_end_, false)) inflateReset(&stream_);
    int status = Z_OK;
    do {
      stream_.next_out = block_.data();
      stream_.avail_out = static_cast<uInt>(block_.size());
      status = inflate(&stream_, Z_NO_FLUSH);
      if (status != Z_OK && status != Z_STREAM_END && status != Z_BUF_ERROR) {
        refuse_file(
            path_,
            "its gzip data are damaged" + (stream_.msg == nullptr ? std::string() : std::string(": ") + stream_.msg),
            "get the file again");
      }
      const std::size_t made = block_.size() - stream_.avail_out;
      if (made > max_bytes_ - text.size()) {
        throw TooLarge("the file " + path_.string() + ", unpacked,", static_cast<double>(text.size() + made),
                       static_cast<double>(max_bytes_), "raise the limit, or split the file");
      }
      text.append(reinterpret_cast<const char*>(block_.data()), made);
    } while (status == Z_OK && stream_.avail_out == 0);
    at_end_ = status == Z_STREAM_END;
  }

  const std::filesystem::path& path_;
  std::size_t max_bytes_;
  z_stream stream_{};
  std::array<Bytef, std::size_t{1} << 16U> block_{};
  bool at_end_ = false;
};

/// `text` as one gzip member without a time stamp, so that equal texts make equal files.
[[nodiscard]] inline std::string packed(const std::filesystem::path& path, std::string_view text) {
  constexpr std::size_t max_at_once = std::size_t{1} << 30U;
  z_stream stream{};
  if (deflateInit2(&stream, Z_DEFAULT_COMPRESSION, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) != Z_OK) {
    refuse_file(path, "it cannot be packed", "there is no memory left");
  }
  std::string bytes;
  std::array<Bytef, std::size_t{1} << 16U> block{};
  int status = Z_OK;
  std::size_t used = 0;
  while (status != Z_STREAM_END) {
    const std::size_t portion = std::min(text.size() - used, max_at_once);
    stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data() + used));
    stream.avail_in = static_cast<uInt>(portion);
    stream.next_out = block.data();
    stream.avail_out = static_cast<uInt>(block.size());
    status = deflate(&stream, used + portion == text.size() ? Z_FINISH : Z_NO_FLUSH);
    used += portion - stream.avail_in;
    bytes.append(reinterpret_cast<const char*>(block.data()), block.size() - stream.avail_out);
  }
  deflateEnd(&stream);
  return bytes;
}

[[noreturn]] inline void refuse_to_write(const std::filesystem::path& path, int error) {
  refuse_file(path, "it cannot be written: " + std::generic_category().message(error),
              "check the path, the permissions and the space left");
}

/// Writes to an open file and closes it, down to the medium. Returns 0, or the error number.
[[nodiscard]] inline int write_and_close(std::FILE* file, std::string_view bytes) {
  errno = 0;
  bool fine = std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size();
  fine = std::fflush(file) == 0 && fine;
#if defined(__unix__) || defined(__APPLE__)
  // Pipes and terminals have nothing to synchronise and say so with EINVAL or ENOTSUP.
  if (fine && fsync(fileno(file)) != 0) fine = errno == EINVAL || errno == ENOTSUP || errno == EROFS;
#endif
  const int error = errno;
  if (std::fclose(file) != 0) return errno == 0 ? EIO : errno;
  if (fine) return 0;
  return error == 0 ? EIO : error;
}

/// A new, empty file beside `target`, opened for writing.
[[nodiscard]] inline std::pair<std::filesystem::path, std::FILE*> new_file_beside(const std::filesystem::path& target) {
  std::random_device random;
  for (int attempt = 0; attempt < 100; ++attempt) {
    std::filesystem::path beside = target;
    beside += ".new-" + std::to_string(random());
    errno = 0;
    if (std::FILE* file = std::fopen(beside.string().c_str(), "wbx"); file != nullptr) return {beside, file};
    if (errno != EEXIST) break;
  }
  refuse_to_write(target, errno);
}

inline void replace_file(const std::filesystem::path& target, std::string_view bytes) {
  const auto [beside, file] = new_file_beside(target);
  std::error_code failed;
  if (const int error = write_and_close(file, bytes); error != 0) failed.assign(error, std::generic_category());
  std::error_code unknown;
  const auto before = std::filesystem::status(target, unknown);
  if (!failed && std::filesystem::exists(before)) std::filesystem::permissions(beside, before.permissions(), failed);
  if (!failed) std::filesystem::rename(beside, target, failed);
  if (!failed) return;
  std::filesystem::remove(beside, unknown);
  refuse_to_write(target, failed.value());
}

}  // namespace detail

inline std::string_view checked_utf8(std::string_view text, const std::string& file) {
  constexpr std::string_view mark = "\xEF\xBB\xBF";
  const std::size_t extent = detail::utf8_extent(text);
  if (extent < text.size()) {
    static constexpr std::string_view digits = "0123456789ABCDEF";
    const auto byte = static_cast<unsigned char>(text[extent]);
    const auto line = 1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(extent), '\n');
    throw ModelError({Problem{"line " + std::to_string(line) + ", byte offset " + std::to_string(extent),
                              std::string("the byte 0x") + digits[byte >> 4U] + digits[byte & 15U] + " is not UTF-8",
                              "save the file as UTF-8"}},
                     file);
  }
  return text.starts_with(mark) ? text.substr(mark.size()) : text;
}

inline std::string read_text_file(const std::filesystem::path& path, std::size_t max_bytes) {
  std::string bytes = detail::read_bytes(path, max_bytes);
  if (bytes.starts_with("\x1F\x8B")) bytes = detail::Unpacker(path, max_bytes).unpack(bytes);
  const std::string_view text = checked_utf8(bytes, path.string());
  bytes.erase(0, bytes.size() - text.size());
  return bytes;
}

inline void write_text_file(const std::filesystem::path& path, std::string_view text) {
  std::ignore = checked_utf8(text, path.string());
  const bool pack = path.extension() == ".gz";
  const std::string bytes = pack ? detail::packed(path, text) : std::string();
  const std::string_view written = pack ? std::string_view(bytes) : text;

  std::error_code unknown;
  const auto status = std::filesystem::status(path, unknown);
  if (std::filesystem::is_directory(status)) detail::refuse_file(path, "it is a directory", "name a file");
  if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status)) {
    std::FILE* file = std::fopen(path.string().c_str(), "wb");
    if (file == nullptr) detail::refuse_to_write(path, errno);
    if (const int error = detail::write_and_close(file, written); error != 0) detail::refuse_to_write(path, error);
    return;
  }
  const bool linked = std::filesystem::is_symlink(std::filesystem::symlink_status(path, unknown));
  const std::filesystem::path target = linked ? std::filesystem::weakly_canonical(path, unknown) : path;
  detail::replace_file(unknown && target.empty() ? path : target, written);
}

}  // namespace faultodds
