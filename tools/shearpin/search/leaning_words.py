"""How far words and traits of a query push each kind: written by `python -m _evaluation.leanings`, not by hand."""

from __future__ import annotations

from typing import Final

LEANINGS_TEXT: Final = """
#=mlkmmmomommmm @=jmnmllnmqmmkm @$=jmqmlmnmnmmkm ^@=mmkmmlnmommmm ^are=mmmommmmlmmmm
^can=jkomnmmmmpmlm ^carb=mommlmmmmmmmm ^chute=pmmmlmmmlmmmm ^clean=mkmmmmmmmommm ^cord=llmmpmmmlmmmm
^does=mkmpmmmmmmmmm ^engine=mlkmomqmlmmlm ^get=kpmmmmmmmmmmm ^head=mpmmkmmmlmmmm ^how=kkqkmmmqllllm
^i=pmmmmmmmmmmkm ^is=llmnlmmmmlqmm ^it=ommmmmmmlmmmm ^look=mmlplmmmmmmmm ^make=lpmmlmmmlmmmm
^need=llmmmmmmpmmmm ^no=mllmommmlmmmm ^oil=pmmllmmmnmmmm ^pull=kmmnmmmmnmmmm ^put=mmmommmmmlmmm
^revs=jmpmommmmmmlm ^rubber=mlmmmmmmommmm ^set=mmmlmmmmmommm ^spark=mlolmmmmnlmmm ^spout=kmmmlmmmpmmmm
^spring=limommmmpmmml ^starter=omllmmmmmmmmm ^the=lllllrmmnmmmm ^what=klnmlmmnknmom ^whats=mmlmmmmmmmmom
^where=lomommmnmlmkm ^which=mnlnlommlmlnm ^why=mmmllmmmmmmom a=lpjqmomlilmmm after=lkmmommmmmomm
air=mmonlmmmmllnm air_in=mmomlmmmmmmmm an=knmmmmmmmlmpm and=lnlpjmommllom and_down=kmmnmmmmmmmom
any=mmmpkmmmmmmmm auger=lommkmmnmnlml auger$=mnmljmmmnnmnm auger_cable=mmmmmmmmommmm augers=ommmlmmmmmmmm
away=llmmnmmmmmomm axle=mmmmlmmmommmm bearing=mmlolmmmlmmmm before=lommmmmmmmmmm belt=nkmmmmmlommmn
belt$=knmmnmmlnmmmm belts=nnmmlmmmkmmom between=mlmmlmmmommnm big=mlomlommlmmmm blades=llmmmmmmmmomm
blower=nmllmonmmmmmm blower$=mllmmommnmmmm bolt=lmnmkmmmnmmmm bolts=llmommmmnmmmm bowl=nomkmmmmmmmmm
box=nlmllmmommmmm brake=lpmllmmmlmmnm but_no=lmmmommmmmmmm by=lllmmnmmkmmpm can=jjomnmmmmoolm
cant=lommmmmmmmmmm carb=mjmkkmmmonnpm carb$=mjmmmmmmmpmmm case=nlollmmlnmmmm change=molmmmmmlmmmm
choke=kommkommmmmmm chute=nnmmlmmokmlko chute$=kommmmmmnmmko clean=mnmkmmmmmommm coil=mmmommmmlmmmm
coil$=mmmommmmlmmmm cold=mnommmmmkmmmm cord=phnmommlmmmmm cord$=qimmmmmmnmmmm deep=mnmknmmmmmmmm
do=lsiknmmoimmpm do_i=lollnmmmlnmom do_the=mlmlmmmpmmmlm does=ljnolmmommmmm does_the=ljnommmommmlm
dont=mkmmlmmmmmmpm drive=nomllmmmlmmmn drop=mpmkmmmmmmmmm engine=lmlkmoqlmmmml engine$=nnmmmmmmmmmkm
fan=klnmmmmmnmnmm fan$=mmmkpmmmlmmmm filter$=mmmmommmkmmmm find=mmllmmmmmlmom fire=mjmmmmmmmmmpm
fit=mommmmmmkmmmm flap=llmmmmmmommmm float=mlmlmmmqmmmkm flywheel_key=mmmmommmlmmmm for=jinmmlmlnrkmp
for_the=llpkllmlollnp free=mioolmmmmmmom from=mlmmnmmmommjm fuel=nlmmommmllmmm gap=mmlllmmmmommm
gap$=mmkmmmmmmommm gas=lmlolmmmookmm gas$=knlmkmmmmpjpm gasket=mnlmlmmmlommm gasket$=mlmmommmlmmmm
gauge=mmkmmmmmmpmmm gear=omoklmmlmmmmm gear_case=nlollmmlmmmmm gear_oil=lomlmmmmmmmmm gearbox=mlmnkmmmommmm
gears=mkmmmmmommmmm get=jqmmmmmmmmmmm going=lpmmlmmmlmmnm good=mlkpmmmmmmmmm grease=mknmmmmmnmmmm
grips=mmlmommmlmmmm handle$=lmmommmmkmmnm handles=mlmommmmnlmmm hard=mknmmmmmmmnmm head=monmmmmmjmmnm
head_gasket=mpmmmmmmkmmmm hot=mlmommmmllnmm how=kkpilmmullllp how_do=mjjmnmmommmpm how_does=mmmmmmmommmlm
how_many=mkommmmmmmmmm how_to=mrjmmmmmllmkp i=nnllmmmllmokm i_do=mnnmmmmmmmnkm impeller=lmnpkmmmlmmmm
in=ljmlmpnmmlqlm in_the=kmlkqomnlmnlm inside=mmmlmmmmommmm inside_the=mkmmmmmmommmm is=nljomnmmjnplm
is_it=jmmopmmmmmmkm is_the=mknklmmnmmomm it=lomnlkmljmnnp it$=pnkllkmmnnkmp its=olllnmmmlmnnl
itself=nmmmmkmmnmmmm key=njmmpmmmlmmlm key$=mmmmommmlmmlm lamp=nlmplmmmlmmmm lamp$=mmmplmmmlmmmm
leaking=mmmommmmmmmkm left=kmnmnmmmnmmmm lever=mlmllmmllmmpm lever$=mlnmlmmmkmmpm light=nmmnlmmnkmmmm
like=mlmmmmmmmmmom like_a=olmmmmmmmmmmm look=mllqlmmmmlmmm look_at=mmmolmmmmmmmm machine=nnmllnmmkolmm
machine$=mlmmmmmmmolmm magneto=mmmmommlmmmml make=lpknmmmmlmmmm makes=mlmknmmonmmmm many=mkommmmmmmmmm
me=lnmmmmmmmmomm measure=mmlommmmmmmmm motor=nmmmlmmmomlmm much_oil=lklnommmmmmmm my=lmmmmmmmmmomm
need=llmmmmmmpmmmm new=lqmmlmmmmlmmm no=lllmrmmnmmmmm not=mnmmommmlmlmm now=mommlmmmmmmlm
of=liokjmmlpnlnr of_the=klmnkmmmpmmlo off=nmllokmmomlmm off$=nllmommmlmmmm off_the=mmmmmkmmommmm
oil=olnlnmmlmnmkm oil$=omlmkmmmnnnlm oil_for=mmommmmmlmmmm old=kmmmjmmmmmmsm on=jjoniomlolnpl
on_the=mjnmommlmlmnl one=mlmlnqmmlmlmm one$=mmmlommmmmmmm open=jmnmpmmmmmmmm or=mknnmmmmmmmmm
out=kktljmmmnpkll out$=jmqnlmmmnmllm out_of=mmlmmmmmommmm out_the=ommmmmmmlmmmm over=nmmlkmmmmmlqm
paddle=lmmmmlmmommmm paddles=kqkmllmmnmmmm part=nmlmmmmmommlm petrol=llmonmmmnmllm pin=mjmkpmmmnnmmm
pin$=mlmlommmlnmmm pins=nllmommmnmmmm plate=mommlmmmlmmnl play=mkomkmmmmmmom play$=mlmlmmmmmmmom
plug=mnnnlnmlmlmkm plug$=lplmommmjmmmm plug_gap=mmkmmmmmmommm power=mmmmlommmmmmm pressure=mmkonmmmmlmmm
puddle=lmmmommmmmmmm pull=ojmllmmmplnmm pull_cord=pimmmmmmnmmmm pull_start=mmmlmmmmmmomm pulley$=mlomlmmmnmmmm
pulling=mmmlommmlmmmm put=ljmnnmmmoqkmm put_a=mlmommmmmlmmm recoil=molmlmmmnmmlm recoil_spring=molmmmmmmmmlm
reverse=jrmmmmmmlmmmm revs=ilsmnmmmmmllm ring$=mmommmmmlmmmm rope=lmmnlmmmommmm round=okmnlmmmllonm
round$=nkmmmmmmlmomm rpm=mllnmmmmlommm rubber=mlnmlmmmommmm seal=nmmmkmmmnmmmm see=mklommmmmnmmm
set=mnmlmmmmmommm shaft=mlmommmmmmmmm shaft$=llmommmmmmmmm shear=mlknnmmmnmmmm shear_pin=mlmmommmmmmmm
should=lmommmmmmmmmm side=kmlmnmmmpmmmm side$=mllmommmmmmmm single=lmmmmommmmmmm single_stage=lmmmmommmmmmm
size=mmpkmmmmmmmmm snow=lnllonmmlmlmm so=lommlmmmkmmpm so_it=llmmlmmmmmmpm solid=ommmlmmmmmmmm
solid$=ommmlmmmmmmmm spark=llnjommmolnmm spark_plug=mlnmmmmmpkmmm spin=lmmommmmmmmmm spout=mlmmlmmmpmmmm
spray=kkmnmmmmnpmmm spring=lllmmmmmnmpll spring$=molmmmmmmmmlm start=konklomllmqmm starter=nlllommmlmmmm
starter$=lmmmmmmmommmm stays=ommmlmmmmmmmm steering=mlnljommlmmom stick=llmlnmmmmommm still=llmmmmmmmnpmm
stop=lmommmmmmmmmm stopped=llmmmmmmmmomm stuck=ommlmmmmlmmmm stuff=mkmmnmmmpmlmm summer=mkmmmmmmpmmmm
summer$=mkmmmmmmpmmmm swing=okmolmmmmmmlm switch=kommmmmmmmmmm tappets=momlmmmmmmmlm that=kjkljmmmwpmlm
the=gnjplqnompjkp the_@=mmlmmmmmommmm the_belt=njnmlmmmnmmmn the_carb=mhmklmmmoplpm the_chute=knmmmmmommmko
the_drive=mmmlmmmmommmm the_engine=klpllmmmommol the_friction=mmommmmmlmmmm the_gas=kmmlqmmmkmmmm the_gear=mlomlmmlmmmmm
the_impeller=llmqkmmmmmmmm the_lamp=mmmplmmmlmmmm the_lever=llmmmmmmommmm the_machine=mnmlmmmmmolmm the_muffler=okmmmmmmmmmmm
the_petrol=llmolmmmmmmmm the_plug=lllmommmlommm the_pull=lmmkmmmmomomm the_recoil=molmmmmmmmmlm the_spout=olmmmmmmmmmmm
there=nmmmmmmmlommm there$=mmmommmmlmmmm tiller=nmmllonmmmlmm time=onmmommmjmlmm tip=mmnmlmmmmllmp
tip_it=mmmmlmmmmmlmp to=nmlijmmloskmp to_turn=pmmmmmmmknmlm too=llmlsmmmjmnmm top=kmmmmmmmommmm
top_of=kmmmmmmmommmm tracks=lpjmmommmmmmm turn=mlmllmmpknolm turn$=lmmlmmmpmmmmm turn_the=kmmmmmmmmnomm
turning=olmmmmmmmmmmm two=plmmlmmmmmmnm under=nlmmmmmmmqjmm under_the=nlmmmmmmmolmm up=jnnllmmmmmnpm
up$=kmnmlmmmmmmpm up_and=kmmnmmmmmmmom up_the=mommmmmmlmmlm valves=lpllkmmmnmmmm valves$=lpllkmmmnmmmm
weeping=olmmmmmmmmmmm what=knnmjmmnlommm what_is=mmlmmmmlmmmom whats=mmlmmmmmmmmom wheel=mpllmkmmnmmmm
where=mnmpmmmnmlmkm which=mnlnlommlmlnm while=knmmmmmmmmpmm why=kmmlommmmmmom wide=jmnmpmmmmmmmm
wire=lommlmmmmmmmm with=pkinlopplmnkl with_the=mkmommmmmmnmm without=kmmmmommmmmmm wont=ommmlmmmmmmmm
work=mjmmlmmpmmmom work$=mjmmlmmpmmmom working=lommmmmmmmmmm worn=mlolommmmmmmm yard=qlmmmkmmmmlmm
you=lllmkmmlpnnnm ~2=kolknmmmmmmpm ~3=qkmkmnmmoomjl ~4=igkiitpmnshpr ~6=mjmlknnnlrokn
~9=mjnmlmmnklnpm ~cause=mmmllmmommmnm ~complaint=jmiqmuqiklklo ~do=mdillmmoptjrp ~do-value=mlqlmmmmmkmmm
~few=kmnlpnnmllmnl ~ing=jolljmmmkmnor ~not=okllpmmmlmlom ~part=jjmnnmmllomrm ~question=hmqmjnmrilkqm
~test=mmminmmmmnplm ~the=lllllrmmnmmmm ~theory=mmlnlmmqmmmlm ~value=nkqkkmnljsmlm ~where=lhiiknmktqmpp
~whether=immslmmljnqjm ~who=nmnnmkmljnnmp
"""
