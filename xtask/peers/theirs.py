"""Times the named libraries on the inputs that `examples/ours` wrote, and compares their answers with ours.

Usage: python theirs.py FOLDER. Writes one JSON object per line: work, library, nanoseconds, apart (the largest
relative difference of the answers). Every time is the best of several runs, in one thread.
"""

import json
import os
import pathlib
import sys
import time
import warnings

FOLDER = pathlib.Path(sys.argv[1])
os.environ["NUMBA_NUM_THREADS"] = os.environ["OMP_NUM_THREADS"] = "1"
# Without it, fluids keeps compiled functions where IPython says, and asks for IPython.
os.environ["NUMBA_FUNCTION_CACHE_SIZE"] = "0"
warnings.filterwarnings("ignore")

import emcee
import fluids
import fluids.numba_vectorized
import highspy
import numba
import numpy
import pandapipes
import scipy
import scipy.odr
from pandapipes.properties.fluids import Fluid, FluidPropertyConstant
from pandapipes.std_types.std_type_class import PumpStdType
from pandapipes.std_types.std_types import create_std_type
from scipy.optimize import curve_fit

import posterior


def best_nanoseconds(work, runs, each=1):
    """The least time of `work`, which does `each` pieces of it."""
    times = []
    for _ in range(runs):
        started = time.perf_counter_ns()
        work()
        times.append(time.perf_counter_ns() - started)
    return min(times) / each


def report(work, library, nanoseconds, ours, theirs):
    apart = float(numpy.max(numpy.abs(numpy.asarray(ours) / numpy.asarray(theirs) - 1)))
    print(json.dumps({"work": work, "library": library, "nanoseconds": nanoseconds, "apart": apart}))


def colebrook():
    reynolds, roughness, ours = (
        numpy.fromfile(FOLDER / f"colebrook-{column}.f64") for column in ("reynolds", "roughness", "factor")
    )
    # `Colebrook` under numba is `Clamond` with its third argument misread; this is the one of full precision.
    clamond = fluids.numba_vectorized.Clamond
    theirs = clamond(reynolds, roughness, False)  # the first call compiles
    nanoseconds = best_nanoseconds(lambda: clamond(reynolds, roughness, False), 20, len(reynolds))
    library = f"fluids {fluids.__version__} under numba {numba.__version__}"
    report("colebrook", library, nanoseconds, ours, theirs)


def fittings():
    bore, reynolds, share = (numpy.fromfile(FOLDER / f"fittings-{name}.f64") for name in ("bore", "reynolds", "share"))
    library = f"fluids {fluids.__version__} under numba {numba.__version__}"
    vectorized = fluids.numba_vectorized
    # Two-K and tees take a name or six numbers; called one by one they are what the library offers.
    elbow, tee = fluids.fittings.Hooper2K, fluids.fittings.K_branch_converging_Crane
    inch = 0.0254

    def each(one, count):
        return numpy.array([one(i) for i in range(count)])

    def report_of(work, by, nanoseconds, theirs):
        ours = numpy.fromfile(FOLDER / f"fittings-{work.replace(' ', '-')}.f64")[: len(theirs)]
        # A K passes through zero: what is apart is measured against the largest.
        apart = float(numpy.max(numpy.abs(ours - theirs)) / numpy.max(numpy.abs(theirs)))
        print(json.dumps({"work": work, "library": by, "nanoseconds": nanoseconds, "apart": apart}))

    theirs = vectorized.ft_Crane(bore)  # the first call compiles
    report_of("crane f_T", library, best_nanoseconds(lambda: vectorized.ft_Crane(bore), 20, len(bore)), theirs)
    few = 10_000
    interpreted = f"fluids {fluids.__version__}"
    name = "Elbow, 90°, Standard (R/D = 1), Flanged/welded"
    one = lambda i: elbow(Di=bore[i] / inch, Re=reynolds[i], name=name)
    report_of("two-K elbow", interpreted, best_nanoseconds(lambda: each(one, few), 5, few), each(one, few))
    one = lambda i: tee(D_run=bore[i], D_branch=bore[i], Q_run=1 - share[i], Q_branch=share[i], angle=90)
    report_of("joining tee", interpreted, best_nanoseconds(lambda: each(one, few), 5, few), each(one, few))


def network(given):
    net = pandapipes.create_empty_network()
    constants = {key: FluidPropertyConstant(given[key]) for key in ("density", "viscosity")}
    net["fluid"] = Fluid("water", "liquid", heat_capacity=FluidPropertyConstant(4182.0), **constants)
    nodes = [pandapipes.create_junction(net, pn_bar=1.0, tfluid_k=293.15) for _ in given["nodes"]]
    bar_per_m = given["density"] * 9.80665e-5  # all nodes lie level, so the library's own 9.81 enters nothing
    for node, (level, drawn) in zip(nodes, given["nodes"]):
        if level is not None:
            pandapipes.create_ext_grid(net, node, p_bar=level * bar_per_m, t_k=293.15)
        elif drawn:
            pandapipes.create_sink(net, node, mdot_kg_per_s=drawn * given["density"])
    for start, end, bore, length, roughness, k in given["pipes"]:
        pandapipes.create_pipe_from_parameters(
            net, nodes[start], nodes[end], length_km=length / 1e3, inner_diameter_mm=bore * 1e3, k_mm=roughness * 1e3, loss_coefficient=k
        )
    for start, end, shutoff, linear, square in given["pumps"]:
        hourly = [-square * bar_per_m / 3600**2, -linear * bar_per_m / 3600, shutoff * bar_per_m]
        create_std_type(net, "pump", "curve", PumpStdType("curve", hourly))
        pandapipes.create_pump(net, nodes[start], nodes[end], std_type="curve")
    return net


def circuits():
    for work in ("circuit of 8 pipes and a pump", "circuit of 1013 pipes"):
        given = json.loads((FOLDER / f"{work}.json").read_text())
        net = network(given)
        # Beyond this, tighter tolerances change no digit of the answers.
        options = dict(friction_model="colebrook", tol_p=1e-8, tol_m=1e-8, tol_res=1e-7, max_iter_hyd=100, use_numba=True)
        pandapipes.pipeflow(net, **options)  # the first call compiles
        nanoseconds = best_nanoseconds(lambda: pandapipes.pipeflow(net, **options), 10)
        theirs = net.res_pipe.mdot_from_kg_per_s.to_numpy() / given["density"]
        # Flow near zero has no share of its own. The library takes Colebrook's friction with 3.71 for 3.7, and in
        # laminar flow too, where ours is 64/Re: a grid has many pipes of that kind.
        largest = numpy.max(numpy.abs(theirs))
        ours = numpy.array(given["flows"]) - theirs + largest
        report(work, f"pandapipes {pandapipes.__version__}", nanoseconds, ours, numpy.full_like(ours, largest))


def law(x, a, b, m):
    return a + b * x**m


def fits():
    given = json.loads((FOLDER / "fit.json").read_text())
    x, y, sx, sy = (numpy.array(given[key]) for key in ("x", "y", "sx", "sy"))
    library = f"scipy {scipy.__version__}"

    def ordinary():
        return curve_fit(law, x, y, p0=given["start"], sigma=sy, absolute_sigma=True)[0]

    nanoseconds = best_nanoseconds(lambda: [ordinary() for _ in range(50)], 20, 50)
    report("fit", f"{library} curve_fit", nanoseconds, given["fit"], ordinary())

    def orthogonal():
        data = scipy.odr.RealData(x, y, sx=sx, sy=sy)
        return scipy.odr.ODR(data, scipy.odr.Model(lambda b, t: law(t, *b)), beta0=given["start"]).run().beta

    nanoseconds = best_nanoseconds(lambda: [orthogonal() for _ in range(50)], 20, 50)
    report("orthogonal fit", f"{library} odr", nanoseconds, given["orthogonal"], orthogonal())


def monte_carlo():
    given = json.loads((FOLDER / "monte-carlo.json").read_text())
    x, y, sx, sy, parameters = (numpy.array(given[key]) for key in ("x", "y", "sx", "sy", "parameters"))
    gain, draws, chunk = numpy.array(given["gain"]), given["draws"], 50_000

    def intervals():
        generator = numpy.random.default_rng(11)
        drawn = numpy.empty((draws, 3))
        fixed, dynamic, exponent = parameters
        for start in range(0, draws, chunk):
            drawn_x = x + sx * generator.standard_normal((chunk, len(x)))
            drawn_y = y + sy * generator.standard_normal((chunk, len(x)))
            apart = drawn_y - (fixed + dynamic * numpy.exp(exponent * numpy.log(drawn_x)))
            drawn[start : start + chunk] = parameters + apart @ gain.T
        return numpy.quantile(drawn, [0.025, 0.975], axis=0).T

    # Two samples of one distribution: the answers differ by the scatter of either.
    library = f"numpy {numpy.__version__}"
    report("a million draws", library, best_nanoseconds(intervals, 5), given["ends"], intervals())


def calibration():
    given = json.loads((FOLDER / "posterior.json").read_text())
    pad = posterior.Pad(FOLDER / "posterior.csv")
    found = []
    # Some 1300 independent draws: a mean is off by 0.03 of its spread, and the mode of a skew factor by 0.16.
    nanoseconds = best_nanoseconds(lambda: found.append(pad.sample(64, 4000, 500)), 1)
    means, spreads = found[0]
    ours = numpy.array([given[name] for name in posterior.NAMES])
    apart = max(numpy.max(numpy.abs(ours[:, 0] - means) / spreads), numpy.max(numpy.abs(numpy.log(ours[:, 1] / spreads))))
    # How far apart the means are in spreads, and the spreads as a share, whichever is more.
    print(json.dumps({"work": "posterior of a pad", "library": f"emcee {emcee.__version__}", "nanoseconds": nanoseconds, "apart": float(apart)}))


def schedules():
    version = highspy.Highs().version()
    for slots in (24, 48, 96):
        given = json.loads((FOLDER / f"schedule-{slots}.json").read_text())
        found = []
        # A mixed-integer search has no luck to be averaged out: one run of a long one is enough.
        nanoseconds = best_nanoseconds(lambda: found.append(cheapest_day(given)), 1 if slots > 24 else 3)
        cost, gap = found[0]
        stopped = f", stopped with {100 * gap:.2g} % open" if gap > 1e-9 else ""
        report(f"schedule, {slots} slots", f"HiGHS {version}{stopped}", nanoseconds, [given["cost"]], [cost])


def cheapest_day(given):
    """The cost of the cheapest day and the gap left after a minute: one binary per slot and speed, and one per start."""
    solver = highspy.Highs()
    for option, value in (("output_flag", False), ("threads", 1), ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.0), ("time_limit", 60.0)):
        solver.setOptionValue(option, value)
    speeds, hours, prices = range(len(given["speed_rpm"])), given["hours"], given["price_per_kwh"]
    slots = range(len(prices))
    runs = [[solver.addBinary() for _ in speeds] for _ in slots]
    starts = [solver.addBinary() for _ in slots]
    on = [sum(runs[i][1:], runs[i][0]) for i in slots]
    for i in slots:
        solver.addConstr(on[i] <= 1)
        solver.addConstr(starts[i] >= on[i] - on[i - 1])
    for i in given["quiet"]["slots"]:
        for s in speeds:
            if given["speed_rpm"][s] > given["quiet"]["speed_rpm"]:
                solver.addConstr(runs[i][s] <= 0)
    served = [runs[i][s] for i in given["task"]["slots"] for s in speeds if given["flow_m3s"][s] >= given["task"]["min_flow_m3s"]]
    solver.addConstr(sum(served[1:], served[0]) >= given["task"]["hours"] / hours)
    solver.addConstr(sum(starts[1:], starts[0]) <= given["starts"])
    moved = [3600 * hours * given["flow_m3s"][s] * runs[i][s] for i in slots for s in speeds]
    solver.addConstr(sum(moved[1:], moved[0]) >= given["min_m3"])
    off = given["off_power_w"]
    cost = [hours * prices[i] / 1000 * (given["power_w"][s] - off) * runs[i][s] for i in slots for s in speeds]
    cost += [prices[i] / 1000 * given["start_energy_wh"] * starts[i] for i in slots]
    solver.minimize(sum(cost[1:], cost[0]))
    fixed = sum(hours * price / 1000 * off for price in prices)
    return solver.getObjectiveValue() + fixed, solver.getInfo().mip_gap


colebrook()
fittings()
circuits()
fits()
monte_carlo()
calibration()
schedules()
