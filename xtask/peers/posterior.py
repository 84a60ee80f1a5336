"""The posterior of the pad of `validation/calibration/emcee`, written for a sampler: it shares no code with ours.

A suction, a pad of filter, pipe and heater, and a return, one after another; the flow is the one that was read. The sought numbers
are logarithms of factors about what is stated, and what each meter is off by in its standard uncertainties.
"""

import csv

import emcee
import numpy
from scipy.optimize import least_squares

GRAVITY, DENSITY, VISCOSITY = 9.80665, 998.2072, 1.0016e-3  # fresh water at 20 degC (IAPWS)
WEIGHT = DENSITY * GRAVITY
FOOT, GPM, PSI, INHG = 0.3048, 3.785411784e-3 / 60, 6894.757293168361, 3386.389
TWO_INCH, INCH_AND_A_HALF, ROUGHNESS = 0.0525018, 0.040894, 1.5e-6  # ASTM D1785, minimum wall

NAMES = (
    "pipes suction", "fittings suction", "filter", "media", "pipes pad", "fittings pad", "heater",
    "pipes return", "fittings return", "F", "P", "V", "E",
)  # fmt: skip
MEANS = numpy.array([0, 0, 0, numpy.log(1.5), 0, 0, 0, 0, 0, 0, 0, 0, 0], dtype=float)
SPREADS = numpy.array([0.05, 0.15, 0.20, numpy.log(1.6), 0.05, 0.15, 0.20, 0.05, 0.15, 1, 1, 1, 1])
MEDIA_SHARE = 0.5  # of a sand bed's clean drop, as the site's answers take it
COMMON = 0.7  # of each meter's variance
DISCREPANCY, LENGTH, LEAST = 0.02, 0.7, 5e-3


def friction_m(flow, bore, length):
    """Darcy and Colebrook-White, by fixed-point steps."""
    velocity = flow / (numpy.pi / 4 * bore**2)
    reynolds = DENSITY * velocity * bore / VISCOSITY
    root = numpy.full_like(reynolds, 7.0)  # 1/sqrt(f)
    for _ in range(12):
        root = -2 * numpy.log10(ROUGHNESS / bore / 3.7 + 2.51 * root / reynolds)
    return length / bore / root**2 * velocity**2 / (2 * GRAVITY)


def minor_m(flow, bore, k):
    velocity = flow / (numpy.pi / 4 * bore**2)
    return k * velocity**2 / (2 * GRAVITY)


def taken(flow, numbers):
    """Heads of suction, pad and return; the numbers stand in the last axis but for that of the steps."""
    of = {name: numpy.exp(numbers[..., i, None]) for i, name in enumerate(NAMES[:9])}
    ratio = flow / (60 * GPM)
    suction = of["pipes suction"] * friction_m(flow, TWO_INCH, 42 * FOOT) + of["fittings suction"] * minor_m(flow, TWO_INCH, 5)
    filtered = 4 * PSI / WEIGHT * (MEDIA_SHARE * of["media"] * ratio + (1 - MEDIA_SHARE) * of["filter"] * ratio**2)
    heated = of["heater"] * 2 * PSI / WEIGHT * ratio**2
    pad = filtered + heated + of["pipes pad"] * friction_m(flow, TWO_INCH, 12 * FOOT)
    pad = pad + of["fittings pad"] * minor_m(flow, TWO_INCH, 3)
    back = of["pipes return"] * friction_m(flow, INCH_AND_A_HALF, 25 * FOOT)
    back = back + of["fittings return"] * minor_m(flow, INCH_AND_A_HALF, 3)
    return suction, pad, back


class Pad:
    def __init__(self, readings):
        with open(readings, newline="") as file:
            rows = numpy.array([[float(cell) for cell in row] for row in list(csv.reader(file))[1:]])
        self.flow = rows[:, 1] * GPM
        u_flow = numpy.sqrt(0.01**2 + (0.1 * GPM / numpy.sqrt(12) / self.flow) ** 2)
        self.flow_common, self.flow_own = numpy.sqrt(COMMON) * u_flow, numpy.sqrt(1 - COMMON) * u_flow
        heads, self.common, own = [], [], []
        for column, unit, sign, height in ((2, PSI, 1, 3 * FOOT), (3, INHG, -1, FOOT), (4, PSI, 1, 3 * FOOT)):
            heads.append(sign * rows[:, column] * unit / WEIGHT + height)
            accuracy = 0.25 * unit / WEIGHT
            self.common.append(numpy.sqrt(COMMON) * accuracy)
            own.append(numpy.full(len(rows), (1 - COMMON) * accuracy**2 + (0.1 * unit / WEIGHT) ** 2 / 12))
        self.read, self.own = numpy.concatenate(heads), numpy.concatenate(own)

    def heads(self, numbers, ln_flow=0.0):
        """What the three gauges are fed, without and with what they are off by."""
        flow = self.flow * numpy.exp(ln_flow - numbers[..., 9, None] * self.flow_common)
        suction, pad, back = taken(flow, numbers)
        end = back - minor_m(flow, TWO_INCH, 1)
        true = [pad + back, -suction, end]
        shown = [head + numbers[..., 10 + i, None] * self.common[i] for i, head in enumerate(true)]
        return numpy.concatenate(true, axis=-1), numpy.concatenate(shown, axis=-1)

    def weigh(self, numbers):
        """The factor of the inverse covariance of the readings, with that of the flow carried to the heads."""
        true, _ = self.heads(numbers)
        slope = (self.heads(numbers, 1e-4)[1] - self.heads(numbers, -1e-4)[1]) / 2e-4
        steps, count = len(self.flow), len(true)
        distance = numpy.tile(numpy.log(self.flow), 3)
        distance = (distance[:, None] - distance) / LENGTH
        gauge, step = numpy.arange(count) // steps, numpy.arange(count) % steps
        covariance = numpy.diag(self.own + LEAST**2)
        covariance += numpy.outer(slope, slope) * (step[:, None] == step) * numpy.tile(self.flow_own**2, 3)
        smooth = DISCREPANCY**2 * numpy.outer(true, true) * numpy.exp(-0.5 * distance**2)
        covariance += numpy.where(gauge[:, None] == gauge, smooth, 0)
        self.factor = numpy.linalg.inv(numpy.linalg.cholesky(covariance))

    def residuals(self, numbers):
        left = (self.read - self.heads(numbers)[1]) @ self.factor.T
        return numpy.concatenate([left, (numbers - MEANS) / SPREADS], axis=-1)

    def mode(self):
        numbers = MEANS
        for _ in range(3):
            self.weigh(numbers)
            numbers = least_squares(self.residuals, numbers, xtol=1e-12, ftol=1e-12).x
        return numbers

    def sample(self, walkers, steps, dropped):
        generator = numpy.random.default_rng(7)
        numpy.random.seed(7)  # the sampler's moves
        start = self.mode() + 0.1 * SPREADS * generator.standard_normal((walkers, len(NAMES)))
        density = lambda numbers: -0.5 * numpy.sum(self.residuals(numbers) ** 2, axis=-1)  # noqa: E731
        sampler = emcee.EnsembleSampler(walkers, len(NAMES), density, vectorize=True)
        sampler.run_mcmc(start, steps)
        draws = sampler.get_chain(discard=dropped, flat=True)
        return draws.mean(axis=0), draws.std(axis=0)
