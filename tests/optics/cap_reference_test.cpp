#include <array>
#include <cmath>
#include <cstdio>
#include <vector>

#include <catch2/catch.hpp>

#include "../scenes/reference_data.h"
#include "base/units.h"
#include "closure/wound_model.h"
#include "optics/central_fit.h"
#include "optics/deformed_donor.h"
#include "optics/keratometry.h"
using namespace graftwright;
namespace {
constexpr int kHarmonics = 48;
struct CapCase { EyeShape shape; WoundModel model; };
WoundModel model_of(const nlohmann::json& in){ EyeShape s; s.mid_radius=in.at("R_mid_mm"); s.wound_radius=in.at("edge_r_mm"); s.limbus_radius=s.wound_radius+.4; s.donor_thickness=in.at("t_mm"); s.donor_modulus=in.at("E_MPa"); s.poisson_ratio=in.at("nu"); WoundModelOptions o; o.levels_mmHg={0}; o.harmonics=kHarmonics; o.points=128; o.mesh.donor_elements=28; return WoundModel(s,o);}
void report(const char*n,const WoundModel&m,const std::vector<Eigen::VectorXd>&d,const nlohmann::json&ref){ DeformedDonor s(m,d); auto k=read_keratometry(s); auto f=fit_central_curvature(s,1.6); auto v=s.sample(0,0); auto a=scenes::recorded_curvature(ref,"fourth_disc_1.6"),b=scenes::recorded_curvature(ref,"axial_ring_1.5"),c=scenes::recorded_curvature(ref,"vertex");
 printf("%s fourth %.4f/%.4f %.4f/%.4f ring %.4f/%.4f %.4f/%.4f vertex %.4f/%.4f %.4f/%.4f\n",n,f->mean_D,a.mean_D,f->cylinder_D,a.cylinder_D,k->mean_D,b.mean_D,k->cylinder_D,b.cylinder_D,-337.5*(v.curv_xx+v.curv_yy)/2,c.mean_D,-337.5*(v.curv_xx-v.curv_yy),c.cylinder_D);}
}
TEST_CASE("explore cap","[x]"){
 for(const char* n:{"cap_pressure","cap_pressure_large"}){ auto ref=scenes::reference_case(n); auto m=model_of(ref["input"]); std::vector<Eigen::VectorXd> d(2*kHarmonics+1); for(int h=0;h<=kHarmonics;++h) for(auto f:{Family::A,Family::B}) if(h||f==Family::A) d[size_t(ring_column(h,f))]=Eigen::VectorXd::Zero(m.donor().interior_size(h)+4); double p=mpa_from_mmhg(15); CondensedHarmonic c(m.donor(),0,n[12]?p:0.); d[0]=c.solution(Eigen::Vector4d::Zero(),p*m.donor().pressure_load()); report(n,m,d,ref); double mw=0,mu=0; for(auto&r:ref["results"]["mid_profile_on_0_deg_s_u_w_mm"]){ auto f=m.donor().fields(0,std::min<double>(r[0],m.donor().meridian().wound_s()),d[0]); double uz=f.value[2]-double(r[2]),uu=f.value[0]-double(r[1]); mw=std::max(mw,fabs(uz)); mu=std::max(mu,fabs(uu)); printf("%.3f u %.5f %.5f w %.5f %.5f\n",double(r[0]),double(r[1]),f.value[0],double(r[2]),f.value[2]); } printf("max %.5f %.5f apex %.6f %.6f\n",mw,mu,m.donor().fields(0,0,d[0]).value[2],double(ref["results"]["apex_mid_mm"])); }
 for(int fixed:{0,1}) for(const char* n:{"cap_dipoles_outer","cap_dipoles_mid"}){ auto ref=scenes::reference_case(n); auto in=ref["input"]; auto m=model_of(in); double R=in["R_mid_mm"]; double z=double(in["dipoles"]["fraction"])*double(in["t_mm"]); std::vector<Eigen::VectorXd> d(2*kHarmonics+1);
  for(int h=0;h<=kHarmonics;++h) for(auto fam:{Family::A,Family::B}) if(h||fam==Family::A){ Eigen::VectorXd load=Eigen::VectorXd::Zero(m.donor().interior_size(h)+4); for(double deg:in["dipoles"]["angles_deg"]) for(int k=0;k<2;++k){ double s0=R*asin(double(in["dipoles"]["r_mm"][size_t(k)])/R),sgn=k?-.01:.01,sum=0; for(int i=-20;i<=20;++i) sum+=exp(-.5*i*i/25.); for(int i=-20;i<=20;++i){ double x=i*.12/5; PointForce f; f.s=s0+x; f.theta=rad_from_deg(deg); f.z=z; f.spread=.15; double w=sgn*exp(-.5*i*i/25.)/sum; f.along_meridian=w*(fixed?cos(x/R):1); f.along_normal=fixed?w*sin(x/R):0; m.donor().add_point_force(h,fam,f,load);} } CondensedHarmonic c(m.donor(),h,0); d[size_t(ring_column(h,fam))]=c.solution(Eigen::Vector4d::Zero(),load);} report(n,m,d,ref); double mw=0,mu=0,big=0; for(auto&r:ref["results"]["mid_profile_on_0_deg_s_u_w_mm"]){ double u=0,w=0; for(int h=0;h<=kHarmonics;++h){auto f=m.donor().fields(h,std::min<double>(r[0],m.donor().meridian().wound_s()),d[size_t(ring_column(h,Family::A))]); u+=f.value[0]; w+=f.value[2];} mw=std::max(mw,fabs(w-double(r[2]))); mu=std::max(mu,fabs(u-double(r[1]))); big=std::max(big,fabs(double(r[2]))); } printf("profile dw %.5f du %.5f of %.5f\n",mw,mu,big); double w0=m.donor().fields(0,0,d[0]).value[2]; printf("apex %.6f %.6f\n",w0,double(ref["results"]["apex_mid_mm"])); }
}
