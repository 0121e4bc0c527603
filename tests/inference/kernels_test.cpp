// The inner loops against the plain loop they replace, and against themselves compiled for other processors.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/inference/junction_tree/kernels.hpp"

#include <gtest/gtest.h>

#include <random>
#include <vector>

namespace {

using namespace faultodds::detail;

/// A sweep over random tables: two scalar and two vector inputs, as many outputs, weights and sums of lanes.
class RandomSweep {
 public:
  RandomSweep(std::size_t width, std::size_t blocks, std::uint64_t seed) : random_(seed), width_(width) {
    table_ = doubles(width * blocks);
    lane_weights_ = doubles(width);
    for (std::size_t i = 0; i < 2; ++i) {
      scalars_.push_back(doubles(blocks));
      vectors_.push_back(doubles(width * blocks));
    }
    for (std::size_t block = 0; block < blocks; ++block) {
      for (std::size_t column = 0; column < 4; ++column) {
        const auto entry = static_cast<std::uint32_t>(random_() % blocks);
        offsets_.push_back(column < 2 ? entry : entry * static_cast<std::uint32_t>(width));
      }
    }
    blocks_ = blocks;
  }

  struct Sums {
    std::vector<double> scalar, vector, lanes;

    bool operator==(const Sums&) const = default;
  };

  [[nodiscard]] Sums with(const Kernels& kernels) const {
    Sums sums = zeros();
    const std::vector<Input> scalar_inputs{{scalars_[0].data(), 0}, {scalars_[1].data(), 1}};
    const std::vector<Input> vector_inputs{{vectors_[0].data(), 2}, {vectors_[1].data(), 3}};
    const std::vector<Output> scalar_outputs{{sums.scalar.data(), 1}};
    const std::vector<Output> vector_outputs{{sums.vector.data(), 3}};
    Sweep sweep;
    sweep.table = table_.data();
    sweep.offsets = offsets_.data();
    sweep.blocks = blocks_;
    sweep.columns = 4;
    sweep.lane_weights = lane_weights_.data();
    sweep.lane_sums = sums.lanes.data();
    sweep.scalar_inputs = scalar_inputs.data();
    sweep.scalar_input_count = 2;
    sweep.vector_inputs = vector_inputs.data();
    sweep.vector_input_count = 2;
    sweep.scalar_outputs = scalar_outputs.data();
    sweep.scalar_output_count = 1;
    sweep.vector_outputs = vector_outputs.data();
    sweep.vector_output_count = 1;
    kernels.sweeps[width_ / lanes - 1](sweep);
    return sums;
  }

  [[nodiscard]] Sums entry_by_entry() const {
    Sums sums = zeros();
    for (std::size_t block = 0; block < blocks_; ++block) {
      const std::uint32_t* at = offsets_.data() + block * 4;
      for (std::size_t lane = 0; lane < width_; ++lane) {
        const double product = table_[block * width_ + lane] * lane_weights_[lane] * scalars_[0][at[0]] *
                               scalars_[1][at[1]] * vectors_[0][at[2] + lane] * vectors_[1][at[3] + lane];
        sums.scalar[at[1]] += product;
        sums.vector[at[3] + lane] += product;
        sums.lanes[lane] += product;
      }
    }
    return sums;
  }

 private:
  [[nodiscard]] Sums zeros() const {
    return {std::vector<double>(blocks_), std::vector<double>(blocks_ * width_), std::vector<double>(width_)};
  }
  std::vector<double> doubles(std::size_t count) {
    std::vector<double> values(count);
    for (double& value : values) value = std::uniform_real_distribution<double>(0.1, 1.0)(random_);
    return values;
  }

  std::mt19937_64 random_;
  std::size_t width_ = 0;
  std::size_t blocks_ = 0;
  std::vector<double> table_, lane_weights_;
  std::vector<std::vector<double>> scalars_, vectors_;
  std::vector<std::uint32_t> offsets_;
};

void expect_close(const std::vector<double>& a, const std::vector<double>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) EXPECT_NEAR(a[i], b[i], 1e-13 * (1.0 + b[i])) << i;
}

TEST(Kernels, EveryWidthSumsTheProductsEntryByEntry) {
  for (std::size_t entries = 1; entries <= max_inner; ++entries) {
    const RandomSweep sweep(block_width(entries), 7, entries);
    const RandomSweep::Sums plain = sweep.entry_by_entry();
    const RandomSweep::Sums native = sweep.with(native_kernels());
    expect_close(native.scalar, plain.scalar);
    expect_close(native.vector, plain.vector);
    expect_close(native.lanes, plain.lanes);
  }
}

TEST(Kernels, GiveTheSameBitsWithEveryInstructionSet) {
  for (std::size_t entries = 1; entries <= max_inner; ++entries) {
    const RandomSweep sweep(block_width(entries), 9, entries);
    EXPECT_EQ(sweep.with(portable_kernels()), sweep.with(native_kernels())) << entries;
  }
}

/// A matrix of three results of two, none and three coefficients, at so many places.
class RandomSubsetSweep {
 public:
  explicit RandomSubsetSweep(std::size_t places) : places_(places) {
    std::mt19937_64 random(places);
    for (std::size_t i = 0; i < 3 * places; ++i) {
      for (std::size_t lane = 0; lane < lanes; ++lane) {
        from_.push_back(std::uniform_real_distribution<double>(0.1, 1.0)(random));
        behind_.push_back(std::uniform_real_distribution<double>(0.1, 1.0)(random));
        if (i < sources_.size()) coefficients_.push_back(from_.back() + 0.5);
      }
    }
    for (std::size_t i = 0; i < places; ++i) at_.push_back(static_cast<std::uint32_t>(3 * lanes * (places - 1 - i)));
    coefficients_.resize(sources_.size() * lanes, 0.75);
  }

  [[nodiscard]] std::vector<double> sum_subsets(const Kernels& kernels) const {
    std::vector<double> to(from_.size());
    SubsetSweep task = sweep();
    task.with = coefficients_.data();
    task.to = to.data();
    kernels.sum_subsets(task);
    return to;
  }
  [[nodiscard]] std::vector<double> slopes(const Kernels& kernels) const {
    std::vector<double> to(coefficients_.size(), 1.0);
    SubsetSweep task = sweep();
    task.with = behind_.data();
    task.to = to.data();
    kernels.two_layer_slopes(task);
    return to;
  }

  [[nodiscard]] std::vector<double> subset_one_by_one() const {
    std::vector<double> to(from_.size(), 0.0);
    for_each(
        [&](std::size_t from, std::size_t result, std::size_t k) { to[result] += coefficients_[k] * from_[from]; });
    return to;
  }
  [[nodiscard]] std::vector<double> slopes_one_by_one() const {
    std::vector<double> to(coefficients_.size(), 0.0);
    for_each([&](std::size_t from, std::size_t result, std::size_t k) { to[k] += behind_[result] * from_[from]; });
    return to;
  }

 private:
  [[nodiscard]] SubsetSweep sweep() const {
    SubsetSweep task;
    task.places = places_;
    task.result_places = at_.data();
    task.source_places = at_.data();
    task.run_count = results_.size();
    task.runs = runs_.data();
    task.results = results_.data();
    task.sources = sources_.data();
    task.from = from_.data();
    return task;
  }

  template <typename Visit>
  void for_each(Visit&& visit) const {
    for (const std::size_t at : at_) {
      for (std::size_t run = 0; run < results_.size(); ++run) {
        for (std::size_t k = runs_[run]; k < runs_[run + 1]; ++k) {
          for (std::size_t lane = 0; lane < lanes; ++lane) {
            visit(at + sources_[k] + lane, at + results_[run] + lane, k * lanes + lane);
          }
        }
      }
    }
  }

  std::size_t places_;
  std::vector<std::uint32_t> runs_{0, 2, 2, 5};
  std::vector<std::uint32_t> results_{2 * lanes, 0, lanes};
  std::vector<std::uint32_t> sources_{0, lanes, 2 * lanes, lanes, 0};
  std::vector<std::uint32_t> at_;
  std::vector<double> from_, behind_, coefficients_;
};

TEST(Kernels, CoverSweepsMultiplyByASparseMatrixAtEveryPlace) {
  for (const std::size_t places : {1U, 2U, 4U, 8U}) {
    const RandomSubsetSweep sweep(places);
    expect_close(sweep.sum_subsets(native_kernels()), sweep.subset_one_by_one());
    expect_close(sweep.slopes(native_kernels()), sweep.slopes_one_by_one());
    EXPECT_EQ(sweep.sum_subsets(portable_kernels()), sweep.sum_subsets(native_kernels())) << places;
    EXPECT_EQ(sweep.slopes(portable_kernels()), sweep.slopes(native_kernels())) << places;
  }
}

TEST(Kernels, InvertScaleAndCompareWholeVectors) {
  const Kernels& kernels = native_kernels();
  const std::vector<double> values{0.5, 0.0, 4.0, 1e-301, 8.0, 0.0, 0.25, 2.0};
  EXPECT_EQ(kernels.largest(values.data(), values.size()), 8.0);
  std::vector<double> inverse(values.size());
  kernels.invert(values.data(), values.size(), 1e-300, 2.0, inverse.data());
  EXPECT_EQ(inverse, (std::vector<double>{4.0, 0.0, 0.5, 0.0, 0.25, 0.0, 8.0, 1.0}));
  std::vector<double> product = values;
  kernels.multiply(product.data(), product.size(), inverse.data(), 0.5);
  EXPECT_EQ(product, (std::vector<double>{1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 1.0}));
}

TEST(Kernels, BlocksAreWholeVectorsAndManyVectorsAreEven) {
  for (std::size_t entries = 1; entries <= max_inner; ++entries) {
    const std::size_t width = block_width(entries);
    EXPECT_GE(width, entries);
    EXPECT_LE(width, max_inner);
    EXPECT_EQ(width % lanes, 0U);
    EXPECT_TRUE(width <= max_vectors_at_once * lanes || width / lanes % 2 == 0) << entries;
  }
}

}  // namespace
